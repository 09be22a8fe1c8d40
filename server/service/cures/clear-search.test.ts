import assert from "node:assert/strict";
import { assertClears } from "../../../test/fixtures/clearings.ts";
import { folding, HUNG, hung, near, RIGS, standing } from "../../../test/fixtures/near-moves.ts";

describe("one value that clears a move", () => {
  for (const rig of RIGS) {
    it(`leads the ${rig} past what stands there at the clearance`, () => {
      const made = assertClears(near(rig), "clearance");
      for (const { title } of made)
        assert.match(title, /^Set .+ from -?[\d.]+ to -?[\d.]+ (m|deg): .+ then stays .+ from ball$/);
    });

    it(`keeps the ${rig} from a person, and says that this is no assessment`, () => {
      const made = assertClears(near(rig, "people"), "people");
      for (const { title } of made) assert.match(title, /no assessment of safety$/);
    });
  }

  for (const [rig, [from, to, link, at]] of Object.entries(HUNG)) {
    it(`lifts what hangs from the ${rig} off the floor`, () => {
      const made = assertClears(hung(from, to, link, at, rig), "floor");
      for (const { title } of made) assert.match(title, /: foot then stays \S+ m above the floor$/);
    });
  }

  for (const rig of RIGS) {
    it(`keeps parts of the ${rig} from each other`, () => {
      const made = assertClears(folding(rig), "self-clearance");
      for (const { title } of made)
        assert.match(title, /^Set tilt at key 2 from -\d\d to -[\d.]+ deg: stay then stays .+ from hood$/);
    });

    it(`pans the ${rig} until its stand is out of the picture`, () => {
      const made = assertClears(standing(rig, "pan: 60"), "in-view");
      for (const { title } of made) assert.match(title, /: stand is then out of the picture$/);
    });
  }
});
