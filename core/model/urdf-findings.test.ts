import { checkFindings } from "../../test/fixtures/annotated.ts";
import { ARM, besideArm, changed } from "../../test/urdf/arm.ts";

const check = (fixture: string, arm = ARM): void => checkFindings(fixture, { beside: besideArm(arm) });

describe("findings of a rig from a URDF file", () => {
  it("a right one has none", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: arm.urdf
axes:
  slide: { range: [-0.5 m, 0.5 m], limits: { accel: 1, jerk: 8 }, repeat: { sigma: 0.2 mm } }
  pan: { limits: { speed: 30 deg/s, accel: 60 }, range: [-85.943669 deg, 85.943669 deg] }
  tilt: { drive: setup, positions: [-30, 0, 30] }
camera-mount: { at: [0.04, 0, 0.05] }
bodies: [{ on: pan, box: [0.1, 0.1, 0.1] }]
`);
  });

  it("missing-file: no such file, or one that may not be read", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: amr.urdf
#     ^^^^^^^^ error missing-file: \`amr.urdf\` names no file: there is no \`amr.urdf\`. Paths are relative to this document.
`);
  });

  it("wrong-kind: no URDF file by its name", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: arm.xml
#     ^^^^^^^ error wrong-kind: \`arm.xml\` is no URDF file by its name; \`NAME.urdf\` is expected.
`);
  });

  it("over-determined: chain and urdf; tip and axes without urdf", () => {
    check(`
#- a.rig.yaml
rig: 1
urdf: arm.urdf
chain: [{ axis: pan, type: rotary }]
#      ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: \`chain\` and \`urdf\` both say what the links are: delete one of them.
#- b.rig.yaml
rig: 1
chain: [{ axis: pan, type: rotary }]
tip: hand
#    ^^^^ error over-determined: \`tip\` goes with \`urdf\`: the mount is on the last link of \`chain\`.
axes: { pan: { limits: { jerk: 9 } } }
#     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: \`axes\` goes with \`urdf\`: write it with the axis in \`chain\`.
`);
  });

  it("missing-field: several ends and no tip; a tip that is no link; the tip is the root", () => {
    check(`
#- a.rig.yaml
rig: 1
urdf: cart.urdf
#     ^^^^^^^^^ error missing-field: The arm in \`cart.urdf\` ends in \`wheel_left\`, \`tip_left\`, \`jaw_right\` and \`lamp\`: say with \`tip\` which of its links the camera mount is on.
#- b.rig.yaml
rig: 1
urdf: cart.urdf
tip: lamb
#    ^^^^ error missing-field: \`tip\`: there is no link \`lamb\` in \`cart.urdf\`. Did you mean \`lamp\`?
#- c.rig.yaml
rig: 1
urdf: cart.urdf
#     ^^^^^^^^^ error degenerate-chain: \`cart.urdf\`, line 10, column 15: \`cart\` is the root, so no joint leads to it.
tip: cart
`);
  });

  it("not-computed: links that move beside the chain are left out", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: cart.urdf
#     ^^^^^^^^^ information not-computed: \`cart.urdf\`, line 14, column 15: \`wheel_left\`, \`jaw_right\` and \`lamp\`: moved by joints that are not between the root and \`tip_left\`, so left out with all that they carry.
tip: tip_left
`);
  });

  it("unknown-axis, over-determined, wrong-unit: in axes", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: cart.urdf
tip: tip_left
axes:
  reech: { limits: { accel: 1 } }
# ^^^^^ error unknown-axis: There is no axis \`reech\`. Did you mean \`reach\`?
  mast_on_cart: { limits: { accel: 1 } }
#                 ^^^^^^ error over-determined: \`mast_on_cart\` is fixed in \`cart.urdf\`, so \`limits\` means nothing there: delete it.
  jaw_left_joint: { limits: { speed: 3 m/s } }
#                                    ^^^^^ error wrong-unit: \`speed\`: \`3 m/s\` is a speed along a line; a speed of turning (deg/s or rad/s) is expected.
  lamp: {}
# ^^^^ error unknown-axis: There is no axis \`lamp\`. Known: \`reach\` and \`jaw_left_joint\`.
`);
  });

  it("bad-number: a range wider than the file's", () => {
    check(`
#- r.rig.yaml
rig: 1
urdf: arm.urdf
axes: { pan: { range: [-60, 90] } }
#                     ^^^^^^^^^ error bad-number: \`range\` is -60 deg to 90 deg, but \`arm.urdf\` limits \`pan\` to -85.94 deg to 85.94 deg: here it can only be made narrower.
`);
  });

  it("missing-field: a joint without limits, unless its range stands beside", () => {
    const arm = changed('<limit lower="-1" upper="1"/>', "");
    check(
      `
#- a.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 12, column 16: Joint \`tilt\` is revolute and has no \`<limit>\`: give it there, or its \`range\` under \`axes\` in the rig.
#- b.rig.yaml
rig: 1
urdf: arm.urdf
axes: { tilt: { range: [-30, 30] } }
`,
      arm,
    );
  });

  it("bad-number: limits that leave nothing, a speed below 0, an axis of zeros, no number, a huge one", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 7, column 108: The velocity of joint \`slide\` is -3: it must be more than 0, or 0 for none.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 10, column 74: The limits of joint \`pan\` are 0 to 0: \`lower\` must be less than \`upper\` (each is 0 when left out).
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 13, column 61: The axis of joint \`tilt\` is 0 0 0, which is no direction.
`,
      changed('lower="-1.5" upper="1.5"', 'effort="3"').replace('xyz="0 -1 0"', 'xyz="0 0 0"').replace('"0.5"', '"-3"'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error wrong-type: \`arm.urdf\`, line 7, column 62: \`xyz="0 1"\` of \`axis\` is not 3 numbers with blanks between them.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 10, column 65: \`xyz\` of \`axis\`: \`1e300\` is beyond 1000000000.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 13, column 61: \`xyz\` of \`axis\`: \`NaN\` is not a number.
camera-mount: { at: [0, 0, 0] }
`,
      changed('xyz="0 -1 0"', 'xyz="0 NaN 1e300"')
        .replace('xyz="0 0 1"', 'xyz="0 0 1e300"')
        .replace('"0 1 0"', '"0 1"'),
    );
  });

  it("syntax: XML that is broken, has a document type, or is another thing", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error syntax: \`arm.urdf\`, line 15, column 1: Unclosed tag: robot.
`,
      changed("</robot>", ""),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error syntax: \`arm.urdf\`, line 1, column 1: A document type (\`<!DOCTYPE\`) is not read: delete it.
name: With a document type
`,
      `<!DOCTYPE robot [<!ENTITY a "b">]>\n${ARM}`,
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error wrong-kind: \`arm.urdf\`, line 1, column 2: A URDF file is one \`<robot>\`; this one begins with \`<sdf>\`.
name: A world
`,
      "<sdf/>",
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error empty-document: \`arm.urdf\`, line 1, column 1: The file is empty.
name: Nothing
`,
      "\n",
    );
  });

  it("degenerate-chain: two roots, a circle, no joint, all fixed", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 15, column 13: The file has 2 roots, \`floor\` and \`stray\`: one link stands on the floor, each other hangs on a joint.
name: Two roots
`,
      changed("</robot>", '<link name="stray"/></robot>'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 2, column 15: Every link hangs on another: the joints go in a circle and there is no root.
name: A circle
`,
      changed("</robot>", '<joint name="back" type="fixed"><parent link="hand"/><child link="floor"/></joint></robot>'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 15, column 13: Link \`x\` hangs in a circle of joints, which leads to no root.
name: A circle beside
`,
      changed(
        "</robot>",
        `<link name="x"/><link name="y"/><joint name="xy" type="fixed"><parent link="x"/><child link="y"/></joint>
<joint name="yx" type="fixed"><parent link="y"/><child link="x"/></joint></robot>`,
      ),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 1, column 32: The file has no joint, so nothing can move.
name: No joint
`,
      '<robot name="post"><link name="post"/></robot>',
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: No axis of this chain is driven in a take, so nothing can move.
name: A post
`,
      '<robot name="post"><link name="a"/><link name="b"/><joint name="j" type="fixed"><parent link="a"/><child link="b"/></joint></robot>',
    );
  });

  it("duplicate-name, missing-field, over-determined, wrong-type: links and joints that don't fit", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error duplicate-name: \`arm.urdf\`, line 5, column 34: Two links are called \`hand\`.
#     ^^^^^^^^ error duplicate-name: \`arm.urdf\`, line 12, column 16: Two joints are called \`pan\`.
name: Names twice
`,
      changed('name="tilt"', 'name="pan"').replace('<link name="hand"/>', '<link name="hand"/><link name="hand"/>'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 6, column 4: \`joint\` lacks \`<parent link="…"/>\`.
name: No such link
`,
      changed('<child link="hand"/>', '<child link="hund"/>').replace('<parent link="floor"/>', ""),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error over-determined: \`arm.urdf\`, line 15, column 68: Link \`hand\` hangs on two joints, \`tilt\` and \`more\`.
name: Two parents
`,
      changed("</robot>", '<joint name="more" type="fixed"><parent link="floor"/><child link="hand"/></joint></robot>'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 9, column 16: \`joint\` lacks \`name="…"\`.
name: Names that are no names
`,
      changed('name="slide"', 'name="base"').replace('name="tilt"', 'name="arm.tilt"').replace('name="pan"', 'name=""'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error wrong-type: \`arm.urdf\`, line 6, column 16: Joint \`base\` can't be an axis by this name: \`base\` is the name of the base. Rename it in the file.
#     ^^^^^^^^ error wrong-type: \`arm.urdf\`, line 12, column 16: Joint \`arm.tilt\` can't be an axis by this name: a name is not empty and holds none of the marks . , = # : { } [ ] and quotes. Rename it in the file.
name: Names that are no names of ours
`,
      changed('name="slide"', 'name="base"').replace('name="tilt"', 'name="arm.tilt"'),
    );
  });

  it("not-computed, wrong-type: types of joints", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error not-computed: \`arm.urdf\`, line 6, column 29: Joint \`slide\` is planar, which moves in more than one way: write it as joints of one axis each.
#     ^^^^^^^^ error not-computed: \`arm.urdf\`, line 9, column 27: Joint \`pan\` is floating, which moves in more than one way: write it as joints of one axis each.
#     ^^^^^^^^ error wrong-type: \`arm.urdf\`, line 12, column 28: There is no type of joint \`rotary\`. Known: \`revolute\`, \`continuous\`, \`prismatic\` and \`fixed\`.
`,
      changed('"prismatic"', '"planar"').replace('"revolute"', '"floating"').replace('"revolute"', '"rotary"'),
    );
  });
});
