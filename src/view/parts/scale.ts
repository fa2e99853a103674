/** The page's one colour scale for whole paths and all that is made of them, handed down to every mark. */
import { createContext, useContext } from "react";
import { type DeviationScale, deviationScaleOf } from "../../diagnosis/scale.ts";

export const PathScale = createContext<DeviationScale>(deviationScaleOf(0.03));

export function usePathScale(): DeviationScale {
  return useContext(PathScale);
}
