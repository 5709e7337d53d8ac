/** The style sheet of a form page: every colour is one of the editor's theme. */
export const pageStyles = `
body { margin: 0; padding: 0 24px 40px; color: var(--vscode-editor-foreground); background: var(--vscode-editor-background); font-family: var(--vscode-font-family); font-size: 13px; line-height: 1.45; }
main { max-width: 1120px; margin: 0 auto; }
h1 { font-size: 22px; font-weight: 600; margin: 20px 0 4px; }
h2 { font-size: 16px; font-weight: 600; margin: 0 0 4px; }
h3 { font-size: 13px; font-weight: 600; margin: 12px 0 4px; }
fieldset { margin: 0; border: 0; padding: 6px 0; min-width: 0; }
section { margin: 0; border: 0; border-top: 1px solid var(--vscode-editorWidget-border, var(--vscode-contrastBorder, currentColor)); padding: 16px 0 20px; min-width: 0; }
legend:not(.unseen) { padding: 0; font-weight: 600; float: left; width: 100%; margin-bottom: 4px; }
legend + * { clear: both; }
p { margin: 4px 0; max-width: 62em; overflow-wrap: anywhere; }
.quiet { color: var(--vscode-descriptionForeground, var(--vscode-editor-foreground)); }
.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(230px, 1fr)); gap: 10px 20px; align-items: start; margin: 8px 0; }
[hidden] { display: none !important; }
.field { display: flex; flex-direction: column; gap: 3px; min-width: 0; }
.field.wide { grid-column: 1 / -1; }
label, .label { font-weight: 600; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
input, select, textarea { box-sizing: border-box; font: inherit; color: var(--vscode-input-foreground); background: var(--vscode-input-background); border: 1px solid var(--vscode-input-border, var(--vscode-contrastBorder, var(--vscode-descriptionForeground, currentColor))); border-radius: 2px; padding: 3px 6px; min-height: 26px; width: 100%; }
select { color: var(--vscode-dropdown-foreground, var(--vscode-input-foreground)); background: var(--vscode-dropdown-background, var(--vscode-input-background)); border-color: var(--vscode-dropdown-border, var(--vscode-descriptionForeground, currentColor)); }
textarea { min-height: 6em; font-family: var(--vscode-editor-font-family, monospace); resize: vertical; }
[aria-invalid="true"] { border-color: var(--vscode-inputValidation-errorBorder, var(--vscode-errorForeground, currentColor)); border-width: 2px; }
.error { padding-left: 6px; border-left: 3px solid var(--vscode-errorForeground, currentColor); font-weight: 600; }
.error:empty { display: none; }
:focus-visible { outline: 2px solid var(--vscode-focusBorder); outline-offset: 1px; }
.scroll { overflow: auto; width: fit-content; max-height: 380px; max-width: 100%; margin: 8px 0; border: 1px solid var(--vscode-editorWidget-border, var(--vscode-contrastBorder, currentColor)); }
table { border-collapse: separate; border-spacing: 0; font: inherit; color: inherit; }
th, td { text-align: left; vertical-align: top; padding: 5px 10px; font-weight: normal; white-space: nowrap; }
th { font-weight: 600; }
thead th { position: sticky; top: 0; z-index: 1; background: var(--vscode-editorWidget-background, var(--vscode-editor-background)); border-bottom: 1px solid var(--vscode-editorWidget-border, currentColor); }
tbody tr + tr > * { border-top: 1px solid color-mix(in srgb, var(--vscode-editor-foreground) 14%, transparent); }
td.words { white-space: normal; min-width: 12em; max-width: 18em; overflow-wrap: anywhere; }
.exact { font-family: var(--vscode-editor-font-family, monospace); font-variant-numeric: tabular-nums; max-width: 16em; overflow-wrap: anywhere; }
td input { min-width: 6em; }
td select { min-width: 7em; }
td .error, td.exact { white-space: normal; }
td .error { max-width: 12em; }
td.exact { min-width: 6em; }
td.number, th.number { text-align: right; font-variant-numeric: tabular-nums; }
button { font: inherit; color: var(--vscode-button-foreground); background: var(--vscode-button-background); border: 1px solid var(--vscode-button-border, var(--vscode-contrastBorder, transparent)); border-radius: 2px; padding: 5px 14px; cursor: pointer; }
button[aria-disabled="true"] { opacity: 0.6; cursor: default; }
button.link { padding: 0; color: var(--vscode-textLink-foreground); background: none; border: 0; text-align: left; text-decoration: underline; }
pre { margin: 8px 0; padding: 10px 12px; overflow: auto; max-height: 420px; font-family: var(--vscode-editor-font-family, monospace); font-size: var(--vscode-editor-font-size, 12px); background: var(--vscode-textCodeBlock-background, transparent); border: 1px solid var(--vscode-editorWidget-border, var(--vscode-contrastBorder, currentColor)); }
.open { padding: 8px 14px; border-left: 4px solid var(--vscode-editorWarning-foreground, currentColor); margin: 8px 0; }
.open ul { margin: 4px 0; padding-left: 20px; }
.open.none { border-left-color: var(--vscode-focusBorder); }
.bar { display: flex; flex-wrap: wrap; gap: 8px 16px; align-items: center; margin: 10px 0; }
`;
