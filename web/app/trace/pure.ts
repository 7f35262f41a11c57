// The pure functions of the tracing screen, exposed to tests in a browser.

import * as check from "./check";
import * as corners from "./corners";
import * as drawn from "./drawn";
import * as geometry from "./geometry";
import * as history from "./history";
import * as homography from "./homography";
import * as length from "./length";
import * as plane from "./plane";
import * as sketch from "./sketch";
import * as snap from "./snap";
import * as underlay from "./underlay";
import * as view from "./view";

Object.assign(window, { pure: { check, corners, drawn, geometry, history, homography, length, plane, sketch, snap, underlay, view } });
