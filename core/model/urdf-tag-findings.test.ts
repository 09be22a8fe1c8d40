import { checkFindings } from "../../test/fixtures/annotated.ts";
import { ARM, besideArm, changed } from "../../test/urdf/arm.ts";

const check = (fixture: string, arm = ARM): void => checkFindings(fixture, { beside: besideArm(arm) });

describe("findings of a rig from a URDF file: tags, mimics, loads", () => {
  it("too-large: more findings than are worth telling", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 22: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 34: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 46: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 58: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 70: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 82: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 94: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 106: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 118: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 130: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 142: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 154: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 166: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 178: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 190: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 202: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 214: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 226: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 238: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 5, column 250: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error too-large: \`arm.urdf\`, line 5, column 262: The file has 5 more findings, which are not shown.
`,
      changed('<link name="hand"/>', `<link name="hand">${"<collision/>".repeat(25)}</link>`),
    );
  });

  it("unknown-field: tags and attributes that were most likely meant to be read, and others", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error unknown-field: \`arm.urdf\`, line 7, column 52: \`joint\` has no \`<axes>\`. Did you mean \`<axis>\`?
#     ^^^^^^^^ warning unknown-field: \`arm.urdf\`, line 7, column 82: \`limit\` has no \`low\`. Known: \`lower\`, \`upper\`, \`effort\` and \`velocity\`.
`,
      changed("<axis xyz", "<axes xyz").replace("<limit lower", "<limit low"),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ warning unknown-field: \`arm.urdf\`, line 7, column 94: Within \`joint\`, \`spring\` is not read.
#     ^^^^^^^^ error unknown-field: \`arm.urdf\`, line 5, column 30: \`link\` has no \`<colision>\`. Did you mean \`<collision>\`?
#     ^^^^^^^^ warning unknown-field: \`arm.urdf\`, line 5, column 22: Within \`link\`, \`wheel\` is not read.
name: Harmless ones
`,
      changed('<link name="hand"/>', '<link name="hand"><wheel/><colision/></link>').replace(
        "<limit lower",
        '<dynamics damping="1"/><spring/><limit lower',
      ),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error wrong-kind: \`arm.urdf\`, line 2, column 4: This is a xacro file, a recipe for a URDF file: run xacro on it and name what comes out.
name: A xacro
`,
      changed('<link name="floor"/>', '<xacro:include filename="x.xacro"/><link name="floor"/>'),
    );
  });

  it("mimics: of a missing joint, a fixed one, one beside the chain, in a circle", () => {
    const mimic = (joint: string, text = ARM): string =>
      text.replace('<axis xyz="0 -1 0"/>', `<axis xyz="0 -1 0"/><mimic joint="${joint}"/>`);
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error unknown-axis: \`arm.urdf\`, line 13, column 84: \`tilt\` mimics \`pam\`, but there is no such joint. Did you mean \`pan\`?
name: A missing joint
`,
      mimic("pam"),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 10, column 87: \`pan\` mimics \`tilt\` mimics \`pan\`: a circle of joints has no leader.
name: A circle
`,
      mimic("pan").replace('<axis xyz="0 0 1"/>', '<axis xyz="0 0 1"/><mimic joint="tilt"/>'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 13, column 84: \`tilt\` mimics \`cable\`, which is not between the root and the tip \`hand\`, so nothing drives it here.
tip: hand
name: Fixed, and beside
`,
      mimic(
        "cable",
        changed(
          "</robot>",
          `<link name="c"/><joint name="cable" type="continuous"><parent link="floor"/><child link="c"/></joint></robot>`,
        ),
      ),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error degenerate-chain: \`arm.urdf\`, line 13, column 84: \`tilt\` mimics \`slide\`, which is fixed and never moves.
name: Fixed
`,
      mimic("slide").replace('type="prismatic"', 'type="fixed"'),
    );
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
name: Led and set by hand
axes: { tilt: { drive: setup } }
#                      ^^^^^ error over-determined: \`tilt\` mimics another joint in \`arm.urdf\`, so it cannot be set by hand too: delete \`drive\`.
`,
      mimic("pan"),
    );
  });

  it("what links carry: shapes, masses and meshes that are broken or missing leave the chain", () => {
    check(
      `
#- r.rig.yaml
rig: 1
urdf: arm.urdf
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 6, column 28: A mass is -2 kg: it must be 0 or more.
#     ^^^^^^^^ error wrong-type: \`arm.urdf\`, line 7, column 37: \`size="1 1"\` of \`box\` is not 3 numbers with blanks between them.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 8, column 37: \`size\` of \`box\` is 1 0 1: each must be more than 0.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 9, column 27: \`sphere\` lacks \`radius="…"\`.
#     ^^^^^^^^ warning not-computed: \`arm.urdf\`, line 10, column 27: A shape \`cone\` is not read, so this collision is left out: use box, cylinder, sphere or mesh.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 11, column 17: \`geometry\` has no shape: it takes one of box, cylinder, sphere and mesh.
#     ^^^^^^^^ error missing-field: \`arm.urdf\`, line 12, column 6: \`collision\` lacks \`<geometry>\`.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 13, column 57: \`length\` of \`cylinder\`: \`x\` is not a number.
#     ^^^^^^^^ error bad-number: \`arm.urdf\`, line 14, column 56: \`scale\` of \`mesh\` has a 0 in it: nothing would be left.
#     ^^^^^^^^ error missing-file: \`arm.urdf\`, line 15, column 39: No file is found for \`hand.stl\`. Paths are relative to the URDF file.
#     ^^^^^^^^ error missing-file: \`arm.urdf\`, line 16, column 39: No file is found for \`package://arm/hand.stl\` and \`package://arm/more.stl\`. A folder \`arm\` with it is looked for beside the URDF file and in the folders above it, as far as they may be read: put it there, or write paths relative to the file.
#     ^^^^^^^^ warning not-computed: \`arm.urdf\`, line 18, column 39: \`hand.dae\` is no mesh that the stage reads, by its name: it reads STL, OBJ, glTF and GLB, and draws an outline in place of others. No clearance is measured there.
`,
      changed(
        '<link name="hand"/>',
        `<link name="hand">
    <inertial><mass value="-2"/></inertial>
    <collision><geometry><box size="1 1"/></geometry></collision>
    <collision><geometry><box size="1 0 1"/></geometry></collision>
    <collision><geometry><sphere/></geometry></collision>
    <collision><geometry><cone radius="1"/></geometry></collision>
    <collision><geometry/></collision>
    <collision/>
    <collision><geometry><cylinder radius="0.1" length="x"/></geometry></collision>
    <visual><geometry><mesh filename="hand.stl" scale="1 0 1"/></geometry></visual>
    <visual><geometry><mesh filename="hand.stl"/></geometry></visual>
    <visual><geometry><mesh filename="package://arm/hand.stl"/></geometry></visual>
    <visual><geometry><mesh filename="package://arm/more.stl"/></geometry></visual>
    <visual><geometry><mesh filename="hand.dae"/></geometry></visual>
  </link>`,
      ),
    );
  });
});
