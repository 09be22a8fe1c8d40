import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/** For texts that only YAML can be. */
const checkYaml = (fixture: string): void => checkFindings(fixture, { beside: KIT, json: false });

describe("findings of the text itself", () => {
  it("syntax: a bracket that nothing closes", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
place: { at: [0, 0]
#      ^ error syntax: This \`{\` is never closed, or what it holds is not indented.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("syntax: a quote that nothing closes", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
note: "never closed
#     ^ error syntax: This \`"\` is never closed.
`);
  });

  it("syntax: a line without a colon, with what stands beside it still checked", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
titel: x
#<^^^ error unknown-field: \`move\` has no field \`titel\`. Did you mean \`title\`?
keys:
  - at: 0 s
    stop true
#   ^^^^^^^^^ error syntax: This line has no \`name: value\`: a colon is missing, or the indentation is off.
    axes: { slide: 0 }
    aim: { at: lid }
`);
  });

  it("syntax: a tab as indentation", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
	axes: { slide: 0 }
#<^ error syntax: A tab indents this line: indent with spaces.
`);
  });

  it("syntax: a conflict that a merge left", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
<<<<<<< ours
#<^^^^^^^^^^ error syntax: A merge left a conflict here: keep one side and delete the marks. Until then the first side is read.
  - at: 4 s
=======
  - at: 5 s
>>>>>>> theirs
    axes: { slide: 0.2 }
`);
  });

  it("syntax: an alias without an anchor", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: *gone
#         ^^^^^ error syntax: \`*gone\` has no anchor \`&gone\` that is complete before it.
`);
  });

  it("syntax: a second document in the file", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
---
#<^ error syntax: A second YAML document begins here; only the first is read. Put it into a file of its own.
move: 1
`);
  });

  it("syntax: a tag", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
title: !name x
#      ^^^^^ error syntax: Tags (\`!name\`) are not used in these documents: delete it.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("anchors and aliases are read", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: &start { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: *start
`);
  });

  it("too-many-aliases: a bomb of aliases", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 8 s
    axes: { slide: 0 }
note: &a [x, x, x, x, x, x, x, x, x, x]
#<^^ error wrong-type: \`note\` cannot be a list; text is expected.
b: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a, *a]
#<^ error unknown-field: \`move\` has no field \`b\`. Known: \`move\`, \`title\`, \`rig\`, \`camera\`, \`set\`, \`rate\`, \`start\`, \`deliver\`, \`stabilise\`, \`plate\`, \`place\`, \`setup\` and 10 more.
c: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b, *b]
#<^ error unknown-field: \`move\` has no field \`c\`. Known: \`move\`, \`title\`, \`rig\`, \`camera\`, \`set\`, \`rate\`, \`start\`, \`deliver\`, \`stabilise\`, \`plate\`, \`place\`, \`setup\` and 10 more.
d: &d [*c, *c, *c, *c, *c, *c, *c, *c, *c, *c]
#<^ error unknown-field: \`move\` has no field \`d\`. Known: \`move\`, \`title\`, \`rig\`, \`camera\`, \`set\`, \`rate\`, \`start\`, \`deliver\`, \`stabilise\`, \`plate\`, \`place\`, \`setup\` and 10 more.
e: &e [*d, *d, *d, *d, *d, *d, *d, *d, *d, *d]
#                                  ^^ error too-many-aliases: Here the aliases are too many: at most 1000 aliases that stand for 100000 values together are read. Write the values out, or leave some away.
#<^ error unknown-field: \`move\` has no field \`e\`. Known: \`move\`, \`title\`, \`rig\`, \`camera\`, \`set\`, \`rate\`, \`start\`, \`deliver\`, \`stabilise\`, \`plate\`, \`place\`, \`setup\` and 10 more.
`);
  });

  it("too-deep: lists in lists", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
note: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
#                                                                    ^ error too-deep: Maps and lists are nested more than 64 deep here, deeper than any field needs.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("duplicate-name: a field that stands twice", () => {
    checkYaml(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
title: one
title: two
#<^^^ error duplicate-name: \`title\` stands twice in this map; the first one is read. Delete or rename one.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("empty-document: nothing but a comment", () => {
    checkYaml(`
#- m.move.yaml
# to be written
#<^ error empty-document: The document is empty: a move begins with \`move: 1\`.
`);
  });

  it("wrong-kind: a rig in the file of a move", () => {
    check(`
#- m.move.yaml
rig: 1
#<^ error wrong-kind: This document says that it is a rig (\`rig: 1\`), but by its name, \`m.move.yaml\`, it is a move.
chain: []
`);
  });

  it("wrong-type: a document that is a list", () => {
    check(`
#- m.move.yaml
- move
#<^^^^ error wrong-type: A move is a map of fields that begins with \`move: 1\`.
`);
  });
});
