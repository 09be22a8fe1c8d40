import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("out-of-frame", () => {
  it("is found when the framing leaves the captured picture", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { framing: [1.1, 0.5] }
`);
  });

  it("is found when the framing leaves the delivered crop only", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [3840, 2160]
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { at: lid, framing: [0.5, 0.15] }
`);
  });

  it("holds at the edge of the delivered crop: 2160 of 3456 px begin at 0.1875", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [3840, 2160]
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { at: lid, framing: [0.5, 0.1875] }
`);
  });
});

describe("focus-near", () => {
  it("is found when a target comes nearer than close focus", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0.1 }
    aim: near
    focus: near
  - at: 20 s
    axes: { slide: 0.15 }
`);
  });

  it("is found for a keyed distance between its keys", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 1 m
  - at: 4 s
    focus: 0.25 m
`);
  });

  it("holds at close focus itself", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 1 m
  - at: 4 s
    focus: 0.3 m
`);
  });
});

describe("out-of-reach", () => {
  it("is found for a camera key, with the nearest place and what stops it", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
  - at: 20 s
    name: outside
    camera: { at: [0.09, 1.4, 1.2] }
    aim: lid
`);
  });
});

describe("aim-spin", () => {
  it("explains a pan that runs away when the view passes near the pan axis", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: -0.5 }
    aim: below
    focus: 1 m
  - at: 8 s
    axes: { slide: 0.5 }
#- table.set.yaml
set: 1
targets:
  below: { at: [0.12, 0, 0.1] }
`);
  });
});

describe("allow", () => {
  it("keeps a finding with its reason, in YAML by a comment", () => {
    checkFindings(
      `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    # allow axis-speed: rehearsed at full speed
    axes: { pan: 36 }
`,
      { beside: KIT, json: false },
    );
  });

  it("keeps a finding with its reason, by a field of the key", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 36 }
    allow: [{ code: axis-speed, reason: rehearsed at full speed }]
`);
  });

  it("does not count without a reason or without effect", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 36 }
    allow: [{ code: axis-speed }]
allow: [{ code: axis-range, reason: the stops are off }]
`);
  });
});
