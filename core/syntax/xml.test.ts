import assert from "node:assert/strict";
import fc from "fast-check";
import { MAX_DEPTH, MAX_TEXT } from "./caps.ts";
import { MAX_ELEMENTS, parseXml, type XmlElement, type XmlFault } from "./xml.ts";

function rootOf(text: string): XmlElement {
  const document = parseXml(text);
  assert.ok("root" in document, JSON.stringify(document));
  return document.root;
}

function faultOf(text: string): XmlFault {
  const document = parseXml(text);
  assert.ok("fault" in document);
  return document.fault;
}

describe("XML", () => {
  it("gives elements and attributes with their places", () => {
    for (const head of ["", "\ufeff", '<?xml version="1.0"?>\r\n<!-- an arm -->\n']) {
      const text = `${head}<robot name="a &lt; 𝒳"\r\n  of = 'b'>\n <link\tname="q"/><joint></joint>text</robot>\n`;
      const root = rootOf(text);
      const cut = ({ start, end }: { start: number; end: number }): string => text.slice(start, end);
      assert.equal(cut(root), text.slice(head.length).trimEnd());
      assert.equal(cut(root.nameSpan), "robot");
      assert.equal(root.attributes.get("name")?.value, "a < 𝒳");
      assert.deepEqual(
        [...root.attributes.values()].map(({ span }) => cut(span)),
        ["a &lt; 𝒳", "b"],
      );
      assert.deepEqual(root.children.map(cut), ['<link\tname="q"/>', "<joint></joint>"]);
      assert.deepEqual(
        root.children.map(({ nameSpan }) => cut(nameSpan)),
        ["link", "joint"],
      );
    }
  });

  it("says where a text is broken", () => {
    const cases: readonly [string, XmlFault["code"], RegExp, string][] = [
      ["<a><b></a>", "syntax", /^Unexpected close tag\.$/, ">"],
      ["<a", "syntax", /./, "a"],
      ["<a/><b/>", "syntax", /only one root/, "/"],
      ["<a x=1/>", "syntax", /unquoted attribute/i, "1"],
      ['<a x="1" x="2"/>', "syntax", /duplicate attribute/i, ">"],
      ["  ", "empty-document", /empty/, " "],
      ["words", "syntax", /./, "s"],
    ];
    for (const [text, code, message, at] of cases) {
      const fault = faultOf(text);
      assert.equal(fault.code, code, text);
      assert.match(fault.message, message);
      assert.equal(text[fault.span.start], at, text);
    }
  });

  it("expands no entity but XML's own five and characters by number", () => {
    assert.equal(rootOf('<a x="&amp;&#65;&quot;"/>').attributes.get("x")?.value, '&A"');
    assert.match(faultOf('<a x="&copy;"/>').message, /undefined entity/i);
    for (const name of ["constructor", "__proto__", "toString"]) assert.ok("fault" in parseXml(`<a x="&${name};"/>`));
    const laughs = '<!DOCTYPE a [<!ENTITY b "ha"><!ENTITY c "&b;&b;">]><a x="&c;"/>';
    assert.match(faultOf(laughs).message, /document type .* is not read/);
    assert.equal(faultOf(laughs).span.start, 0);
    assert.match(faultOf('<!DOCTYPE a SYSTEM "file:///etc/hosts"><a/>').message, /not read/);
  });

  it("has bounds", () => {
    const deep = (depth: number): string => "<a>".repeat(depth) + "</a>".repeat(depth);
    rootOf(deep(MAX_DEPTH));
    assert.equal(faultOf(deep(MAX_DEPTH + 1)).code, "too-deep");
    assert.equal(faultOf(`<a>${"<b/>".repeat(MAX_ELEMENTS)}</a>`).code, "too-large");
    assert.equal(faultOf(" ".repeat(MAX_TEXT + 1)).code, "too-large");
    const started = performance.now();
    faultOf("&".repeat(MAX_TEXT));
    faultOf("\u0001".repeat(MAX_TEXT));
    assert.ok(performance.now() - started < 5000, "a long broken text ends at its first fault");
  });

  it("never throws, whatever the text", () => {
    const piece = fc.constantFrom(
      "<",
      ">",
      "/",
      "a",
      ' x="1"',
      "<a>",
      "</a>",
      "&",
      ";",
      "<!--",
      "-->",
      "<![CDATA[",
      "]]>",
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(piece, fc.string({ maxLength: 3, unit: "binary" }))), (parts) => {
        const document = parseXml(parts.join(""));
        if ("fault" in document) assert.ok(0 <= document.fault.span.start);
      }),
      { seed: 31, numRuns: 1500 },
    );
  });
});
