/** A worker that begins with the page: previews, and pictures of the common formats. */

import { serve } from "./serve.js";
import { TASKS } from "./tasks.js";

serve(TASKS);
