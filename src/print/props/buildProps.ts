import type { Plate } from "../../checks/printer";
import type { PartMesh } from "../../geometry/mesh";
import { SignedDistance } from "../../geometry/signedDistance";
import { bracesBetween } from "./braces";
import { type Contact, contactUnder } from "./contact";
import { growTrees } from "./growTrees";
import { defaultPropLimits, type PropLimits } from "./propLimits";
import type { PropRequest } from "./propRequest";
import { Room } from "./room";
import type { PropFoot, PropNeck, Strut } from "./strut";
import { neckOf, strutsOf } from "./struts";
import { type Twig, twigAt } from "./twig";

/** Why a place is not held by a prop. */
export interface Unproppable {
  readonly request: PropRequest;
  readonly reason: "far from the piece" | "no way down";
  /** Where it would have touched. */
  readonly contact?: Contact;
}

/** Props as they are printed, not yet united; plate's frame. */
export interface BuiltProps {
  readonly struts: readonly Strut[];
  readonly necks: readonly PropNeck[];
  readonly feet: readonly PropFoot[];
  readonly unproppable: readonly Unproppable[];
}

const isTwig = (one: Twig | Unproppable): one is Twig => "along" in one;

/** Builds props about one placed piece: what it must know of the piece is made once. */
export class PropBuilder {
  readonly #mesh: PartMesh;
  readonly #room: Room;
  readonly #distance: SignedDistance;
  /** What was found for a request, however often it is asked. */
  readonly #twigs = new Map<PropRequest, Twig | Unproppable>();

  /** @throws RangeError when the mesh is empty or not finite. */
  constructor(mesh: PartMesh, plate?: Plate, limits: PropLimits = defaultPropLimits) {
    if (mesh.triangles.length === 0) throw new RangeError("a piece without triangles cannot be propped");
    if (!mesh.positions.every(Number.isFinite)) throw new RangeError("a vertex of the piece is not finite");
    this.#mesh = mesh;
    this.#distance = new SignedDistance(mesh);
    this.#room = new Room(this.#distance, limits, plate);
  }

  /** The necks for all requests, before anything is joined: what they hold is known from them alone. */
  necks(requests: readonly PropRequest[]): PropNeck[] {
    return requests
      .map((request) => this.#twigOf(request))
      .filter(isTwig)
      .map(neckOf);
  }

  /** The struts for all requests together: joined to trees and braced. */
  build(requests: readonly PropRequest[]): BuiltProps {
    const found = requests.map((request) => this.#twigOf(request));
    const twigs = found.filter(isTwig);
    const forks = growTrees(twigs, this.#room);
    const { struts, necks, feet } = strutsOf(forks, this.#room);
    return {
      struts: [...struts, ...bracesBetween(forks, this.#room)],
      necks,
      feet,
      unproppable: found.filter((one): one is Unproppable => "reason" in one),
    };
  }

  #twigOf(request: PropRequest): Twig | Unproppable {
    const known = this.#twigs.get(request);
    if (known) return known;
    if (!request.at.every(Number.isFinite)) {
      throw new RangeError(`prop "${request.name}" is at (${request.at.join(", ")}): it must be finite`);
    }
    const contact = contactUnder(this.#mesh, this.#distance, request.at);
    const twig = contact && twigAt(request, contact, this.#room);
    const result: Twig | Unproppable =
      twig ??
      (contact ? { request, reason: "no way down", contact } : { request, reason: "far from the piece" });
    this.#twigs.set(request, result);
    return result;
  }
}
