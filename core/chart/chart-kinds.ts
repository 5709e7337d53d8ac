import type { ChartKind } from "../query/vocabulary";
import { enough } from "./kinds/enough";
import { flight } from "./kinds/flight";
import { intervals } from "./kinds/intervals";
import { landing } from "./kinds/landing";
import { order } from "./kinds/order";
import { spreads } from "./kinds/spreads";
import { strikes } from "./kinds/strikes";
import { surface } from "./kinds/surface";
import { suspects } from "./kinds/suspects";
import { workability } from "./kinds/workability";

/** Every kind of chart that `chart.NAME` can draw. */
export const chartKinds: readonly ChartKind[] = [landing, strikes, intervals, order, surface, enough, workability, spreads, flight, suspects];
