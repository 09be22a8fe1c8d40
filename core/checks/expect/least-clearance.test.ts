import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

describe("expect of the clearance", () => {
  it("tells the least distance in its time; the pupil at x = 0.09 passes a post whose front is at x = 0.13", () => {
    checkFindings(
      `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: post.set.yaml
tolerance: { clearance: 30 mm }
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
  - { at: 5 s, axes: { slide: 0.5 } }
expect:
  - { of: clearance, above: 45 mm }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: clearance is 40 mm at 00:00:02:13 (frame 63), but at least 45 mm is expected; change key 2, or what is expected.
  - { of: clearance, above: 39 mm }
  - { of: clearance, above: 45 mm, to: 1 s }
#- post.set.yaml
set: 1
obstacles: { post: { cylinder: { radius: 0.02, height: 2 }, at: [0.15, 0, 1] } }
#- empty.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
expect:
  - { of: clearance, above: 45 mm }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: clearance has no value at 00:00:00:00 (frame 0), as nothing stands in the set that could be measured; 45 mm at least is expected.
`,
      { beside: KIT },
    );
  });
});
