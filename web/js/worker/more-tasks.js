/** What only a worker of the whole core can be asked. */

/** @import { Tasks } from "./serve.js" */

import * as core from "lookwright-wasm";
import { clipFrame } from "./clips.js";
import * as held from "./held.js";
import * as part from "./part.js";
import { read } from "./settings.js";

/** @satisfies {Tasks} */
export const MORE_TASKS = {
  clipFrame,

  chromaticities({ id, settings, stage, viewed, width, height }) {
    const diagram = core.chromaticity_diagram();
    const [pixels, [...shares]] = core.picture_chromaticities(held.picture(id), read(settings), stage, viewed, width, height);
    return { shown: { width: diagram.side, height: diagram.side, pixels }, shares, diagram };
  },
  chromaticityOf({ settings, stage, values: [r, g, b] }) {
    const [u, v, x, y] = core.chromaticity_of(read(settings), stage, r, g, b) ?? [];
    return u === undefined || v === undefined || x === undefined || y === undefined ? null : { u, v, x, y };
  },

  beginPart: part.begin,
  stepPart: part.step,
  haloRanges: part.haloRanges,
  readHalo: part.readHalo,
  writeHalo: part.writeHalo,
  closeHalo: part.closeHalo,
  nextRound: part.next,
  finishPart: part.finish,

  encodePicture: ({ pixels, width, format, quality }) => core.encode_picture(held.asBytes(pixels), width, format, quality),
  saveTable: ({ settings, encoding, grid }) => core.cube_table(read(settings), encoding, grid),
  savePlate: ({ id, settings, kind }) => core.picture_plate(held.picture(id), read(settings), kind),
  matchStill: async ({ id, settings, file, name, closely }, tell) => core.match_picture(held.picture(id), read(settings), await held.pictureBytesOf(file, tell), name, closely),
  checkChart: ({ copy: { code, width, height }, settings, marks }) => core.check_chart(code, width, height, read(settings), marks && Float64Array.from(marks.flat())),
  packPlan: ({ request }) => core.pack_plan(request),
  packHealth: ({ request, kind }) => core.pack_health(request, kind),
  async savePack({ request, frames }, tell) {
    const samples = new core.PackFrames();
    for (const { file, name, settings } of frames) samples.add(await held.bytesOf(file), name, read(settings));
    return core.pack(request, samples, (done, total) => {
      tell({ done, total });
      return true;
    });
  },
  checkTable: async ({ name, file, settings }) => core.check_table(await held.bytesOf(file), name, read(settings)),
};
