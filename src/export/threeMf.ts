import { strToU8, zipSync } from "fflate";
import type { TriangleMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";
import { DecimalText } from "./decimalText";
import { distinctMesh } from "./distinctMesh";
import { escaped } from "./sheet/svg";

/** Where something stands: a point p goes to rotation · p + shift, the rotation as three rows of three. */
export interface Placement {
  readonly rotation?: readonly number[];
  /** mm */
  readonly shift?: Vec3;
}

/** One closed body in a 3MF file. */
export interface ThreeMfObject {
  readonly name: string;
  /** mm */
  readonly mesh: TriangleMesh;
  /** Where it stands, once for each time that it is to be printed; absent: once, where its coordinates say. */
  readonly places?: readonly Placement[];
}

export interface ThreeMfOptions {
  /** What the whole is called. */
  readonly title: string;
  /** A sentence for the person at the printer. */
  readonly description?: string;
}

const contentTypes = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
`;
const relationships = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
`;

/**
 * Bodies as a 3MF file (3MF core specification, ISO/IEC 25422): millimetres, names inside, an object and at least one
 * build item each. Vertices have the same 32-bit values as in an STL of the same mesh, in the decimals of fewest places
 * that round back to them, and no two of a body coincide. The same input gives the same bytes.
 * @throws RangeError when there is no object, or one has no triangles, a missing vertex, a triangle with a corner twice, a
 * coordinate or a placement that is not finite.
 */
export function threeMf(objects: readonly ThreeMfObject[], options: ThreeMfOptions): Uint8Array {
  if (objects.length === 0) throw new RangeError("A 3MF file holds at least one object: none was given.");
  return zipSync(
    {
      "[Content_Types].xml": strToU8(contentTypes),
      "_rels/.rels": strToU8(relationships),
      "3D/3dmodel.model": model(objects, options),
    },
    // The fields of the date are written as a local clock shows them: noon of this day is the same everywhere.
    { level: 2, mtime: new Date(1980, 0, 1, 12) },
  );
}

function model(objects: readonly ThreeMfObject[], { title, description }: ThreeMfOptions): Uint8Array {
  const triangles = objects.reduce((sum, { mesh }) => sum + mesh.triangles.length / 3, 0);
  const text = new DecimalText(1024 + 90 * triangles);
  const markup = (xml: string): void => text.ascii(asciiOnly(xml));
  const metadata = [["Title", title], ...(description === undefined ? [] : [["Description", description]])];
  markup(
    `<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">\n` +
      [...metadata, ["Application", "anadem"]]
        .map(([name, value]) => `<metadata name="${name}">${escaped(value)}</metadata>\n`)
        .join("") +
      "<resources>\n",
  );
  objects.forEach(({ name, mesh }, i) => {
    markup(`<object id="${i + 1}" type="model" name="${escaped(name)}">`);
    writeMesh(text, distinctMesh(mesh));
    markup("</object>\n");
  });
  markup("</resources>\n<build>\n");
  objects.forEach(({ places = [{}] }, i) => {
    for (const place of places) markup(`<item objectid="${i + 1}"${transform(place)}/>\n`);
  });
  markup("</build>\n</model>\n");
  return text.bytes();
}

function writeMesh(text: DecimalText, { positions, triangles }: TriangleMesh): void {
  text.ascii("<mesh><vertices>\n");
  for (let at = 0; at < positions.length; at += 3) {
    text.ascii('<vertex x="');
    text.float(positions[at]);
    text.ascii('" y="');
    text.float(positions[at + 1]);
    text.ascii('" z="');
    text.float(positions[at + 2]);
    text.ascii('"/>\n');
  }
  text.ascii("</vertices><triangles>\n");
  for (let corner = 0; corner < triangles.length; corner += 3) {
    const [a, b, c] = [triangles[corner], triangles[corner + 1], triangles[corner + 2]];
    if (a === b || b === c || c === a) {
      throw new RangeError(`Triangle ${corner / 3} has vertices ${a}, ${b}, ${c}: a corner twice.`);
    }
    text.ascii('<triangle v1="');
    text.whole(a);
    text.ascii('" v2="');
    text.whole(b);
    text.ascii('" v3="');
    text.whole(c);
    text.ascii('"/>\n');
  }
  text.ascii("</triangles></mesh>");
}

/** The format multiplies row vectors from the left: the rotation is written column by column, then the shift. */
function transform({ rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1], shift = [0, 0, 0] }: Placement): string {
  const numbers = [
    ...[0, 1, 2].flatMap((column) => [0, 3, 6].map((row) => rotation[row + column])),
    ...shift,
  ];
  if (numbers.length !== 12 || numbers.some((value) => !Number.isFinite(value))) {
    throw new RangeError(
      `A placement is nine finite numbers of rotation and three of shift, not ${numbers}.`,
    );
  }
  const isIdentity = numbers.every((value, i) => value === (i === 0 || i === 4 || i === 8 ? 1 : 0));
  return isIdentity ? "" : ` transform="${numbers.map((value) => String(value + 0)).join(" ")}"`;
}

/** Characters beyond ASCII as references: the file is the same in every encoding. */
const asciiOnly = (xml: string): string =>
  xml.replace(/[^\x20-\x7e\t\r\n]/gu, (character) => `&#${character.codePointAt(0)};`);
