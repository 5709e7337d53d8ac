/** The style sheet of an output: every colour is one of the editor's theme. */
export const styleSheet = `
.fairstrike { color: var(--vscode-editor-foreground); font-family: var(--vscode-font-family); font-size: 13px; line-height: 1.45; }
.fairstrike p { margin: 0.35em 0; max-width: 46em; overflow-wrap: anywhere; }
.fairstrike-small { font-size: 12px; opacity: 0.85; }
.fairstrike summary { width: fit-content; }
.fairstrike-unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.fairstrike-scroll { overflow: auto; max-height: 440px; width: fit-content; max-width: 100%; border: 1px solid var(--vscode-editorWidget-border, var(--vscode-widget-border, var(--vscode-contrastBorder, currentColor))); }
.fairstrike-scroll:focus-visible, .fairstrike button:focus-visible, .fairstrike summary:focus-visible { outline: 1px solid var(--vscode-focusBorder); outline-offset: 1px; }
.fairstrike table { border-collapse: separate; border-spacing: 0; margin: 0; width: auto; }
.fairstrike th, .fairstrike td { padding: 3px 12px; text-align: left; vertical-align: top; font-weight: normal; border: 0; white-space: nowrap; }
.fairstrike .fairstrike-long { min-width: 14em; max-width: 30em; white-space: normal; overflow-wrap: anywhere; }
.fairstrike thead { position: sticky; top: 0; z-index: 2; }
.fairstrike thead th, .fairstrike thead td { vertical-align: bottom; background: var(--vscode-editorWidget-background, var(--vscode-editor-background)); border-bottom: 1px solid var(--vscode-editorWidget-border, currentColor); }
.fairstrike thead th { padding: 0; }
.fairstrike .fairstrike-first { position: sticky; left: 0; z-index: 1; }
.fairstrike tbody .fairstrike-first, .fairstrike tbody tr:hover > .fairstrike-first { background: var(--vscode-editorWidget-background, var(--vscode-editor-background)); }
@media (max-width: 480px) { .fairstrike .fairstrike-first { position: static; } }
.fairstrike td:focus-visible, .fairstrike tbody th:focus-visible { outline: 2px solid var(--vscode-focusBorder); outline-offset: -2px; }
.fairstrike tbody [aria-selected="true"], .fairstrike tbody tr:hover > [aria-selected="true"] { background: var(--vscode-list-activeSelectionBackground, Highlight); color: var(--vscode-list-activeSelectionForeground, HighlightText); outline: 1px dotted var(--vscode-contrastActiveBorder, currentColor); outline-offset: -1px; }
.fairstrike-summary { font-size: 11px; }
.fairstrike-summary svg { display: inline-block; vertical-align: bottom; color: var(--vscode-charts-blue, currentColor); }
.fairstrike-row { width: 8em; }
.fairstrike-link[aria-disabled="true"] { opacity: 0.55; cursor: default; text-decoration: none; }
.fairstrike tbody tr + tr > * { border-top: 1px solid color-mix(in srgb, var(--vscode-editor-foreground) 12%, transparent); }
.fairstrike tbody tr:hover > * { background: var(--vscode-list-hoverBackground); }
.fairstrike .fairstrike-number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
.fairstrike-missing { opacity: 0.6; }
.fairstrike-head { display: block; box-sizing: border-box; width: 100%; padding: 4px 12px; font: inherit; font-weight: 600; text-align: inherit; color: inherit; background: none; border: 0; white-space: nowrap; }
button.fairstrike-head { cursor: pointer; }
.fairstrike-unit { display: block; font-size: 11px; font-weight: normal; opacity: 0.8; min-height: 1.45em; }
.fairstrike-sort { font-size: 9px; }
.fairstrike-sort:not(:empty) { margin: 0 0.4em; }
.fairstrike-bar { display: flex; flex-wrap: wrap; align-items: baseline; gap: 2px 14px; margin: 5px 0 2px; font-size: 12px; }
.fairstrike-bar > span { opacity: 0.85; }
.fairstrike-link { padding: 0; font: inherit; color: var(--vscode-textLink-foreground); background: none; border: 0; cursor: pointer; }
.fairstrike-link:hover { text-decoration: underline; }
.fairstrike-link[aria-pressed="true"] { text-decoration: underline; }
.fairstrike-box { width: 1em; padding-right: 0; }
.fairstrike thead .fairstrike-box { padding: 4px 0 4px 12px; }
.fairstrike-form { align-items: center; padding: 4px 0; }
.fairstrike-form[hidden] { display: none; }
.fairstrike-field { font: inherit; color: var(--vscode-input-foreground); background: var(--vscode-input-background); border: 1px solid var(--vscode-input-border, var(--vscode-contrastBorder, currentColor)); padding: 2px 4px; }
.fairstrike-reason { width: min(24em, 60vw); }
.fairstrike-button { font: inherit; color: var(--vscode-button-foreground); background: var(--vscode-button-background); border: 1px solid var(--vscode-button-border, var(--vscode-contrastBorder, transparent)); padding: 3px 10px; cursor: pointer; }
.fairstrike-button:disabled { opacity: 0.6; cursor: default; }
.fairstrike-field:focus-visible { outline: 1px solid var(--vscode-focusBorder); }
.fairstrike-choices { display: flex; flex-wrap: wrap; align-items: stretch; gap: 6px 12px; margin: 2px 0; }
.fairstrike-choice { display: flex; flex-wrap: wrap; align-items: center; gap: 3px 14px; min-width: 0; margin: 0; padding: 2px 10px 5px; border: 1px solid var(--vscode-editorWidget-border, var(--vscode-widget-border, var(--vscode-contrastBorder, currentColor))); }
.fairstrike-choice legend { padding: 0 4px; font-weight: 600; }
.fairstrike-choice label { display: inline-flex; align-items: center; gap: 5px; white-space: nowrap; }
.fairstrike-choice input[type="checkbox"], .fairstrike-choice input[type="radio"] { margin: 0; width: 15px; height: 15px; accent-color: var(--vscode-button-background); }
.fairstrike-choice input:focus-visible { outline: 2px solid var(--vscode-focusBorder); outline-offset: 2px; }
.fairstrike-bound { width: 5.5em; text-align: right; }
.fairstrike-bound[aria-invalid="true"] { border: 2px solid var(--vscode-inputValidation-errorBorder, currentColor); }
.fairstrike-chart { position: relative; overflow-x: auto; }
.fairstrike-chart svg { display: block; max-width: none; }
.fairstrike-tip { position: absolute; z-index: 2; padding: 4px 8px; max-width: 22em; pointer-events: none; font-size: 12px; color: var(--vscode-editorHoverWidget-foreground, var(--vscode-editor-foreground)); background: var(--vscode-editorHoverWidget-background, var(--vscode-editor-background)); border: 1px solid var(--vscode-editorHoverWidget-border, currentColor); }
.fairstrike-tip table { border-spacing: 0; }
.fairstrike-tip td { padding: 0 6px 0 0; }
.fairstrike-notes { margin: 0.35em 0; padding: 0; max-width: 60em; list-style: none; overflow-wrap: anywhere; }
.fairstrike-notes li + li { margin-top: 0.35em; }
.fairstrike-notice { padding: 6px 10px; border-left: 3px solid var(--vscode-editorWarning-foreground, currentColor); }
`;
