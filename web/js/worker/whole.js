/** A worker of the whole core. */

import { examine_picture, open_picture } from "lookwright-wasm";
import { readWith } from "./held.js";
import { MORE_TASKS } from "./more-tasks.js";
import { serve } from "./serve.js";
import { TASKS } from "./tasks.js";

readWith({ examine: examine_picture, open: open_picture });
serve({ ...TASKS, ...MORE_TASKS });
