/** Small designs that are tried out; each is built in well under a second. */

/** A ring with what else is given. */
export const ringDesign = ({
  name = "Trial",
  wearer = "minnow.wearer.json",
  imports = "",
  before = "",
  more = "",
  options = "{ width: 16, thickness: 5 }",
} = {}): string => `import { band, headpiece, onHead, tube } from "anadem";
${imports}${before}
export default headpiece({
  name: ${JSON.stringify(name)},
  wearer: ${JSON.stringify(wearer)},
  make({ head }) {
    const ring = band("ring", head.girthLine.raised(12), ${options});
    return [ring${more}];
  },
});
`;

/** A helper in a file of its own: a spike on the ring. */
export const spikeHelper = ({ before = "", options = "{ radius: [5, 3] }" } = {}): string =>
  `import { onHead, tube } from "anadem";

/** A spike that stands on the ring. */
export function spike(azimuth: number) {
  ${before}
  return tube("spike", [onHead({ azimuth, elevation: 5 }), onHead({ azimuth, elevation: 24, lift: 30 })], ${options});
}
`;
