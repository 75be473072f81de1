package structure

import (
	"fmt"
	"math"

	"longgrain/internal/trade/wood"
)

// softBelow is the density below which a heel, a corner or a dropped tool is sure to mark a wood, kg/m³. Hardness rises with density
// ([grekin-2013], abstract read); the limit is a judgement: the soft pines, spruces and cedars lie below it, oak, beech and maple well above.
const softBelow = 480

// notes returns what to mind of a piece that has no figure to compare: the pull on its fixing to the wall, a push that nothing takes, and surfaces that dent.
func (f *frame) notes(tipping []Check, wanted float64) []string {
	var out []string
	if f.a.Fixed != "" {
		_, hi := f.a.Bounds()
		pull := 0.0 // N
		for _, c := range tipping {
			if c.Demand.Unit == "N·m" {
				pull = math.Max(pull, (wanted*c.Demand.Number-c.Capacity.Number)*1000/hi.Z)
			}
		}
		out = append(out, fmt.Sprintf("fixed to the wall, it does not tip as long as the fixing holds: at the top of the piece it must hold %.0f N, with the wanted reserve, and reach something solid behind the wall", math.Ceil(pull/10)*10))
	}
	if len(rulesFor(f.a.Use, f.a.Setting, "push")) > 0 && len(f.heads()) == 0 {
		out = append(out, "nothing that stands on the floor reaches near the top, so no push at the top was tried, and no sway worked out")
	}
	if top, ok := f.loadedSurface(); ok {
		part := f.a.Parts[top.part]
		species, _ := wood.Lookup(part.Species)
		if rho, ok := species.Density(12); ok && rho.Value < softBelow {
			out = append(out, fmt.Sprintf("%s weighs about %.0f kg/m³ and is soft: heels, corners of boxes and dropped tools leave dents in the %s; it does not weaken the piece", species.Name, float64(rho.Value), part.Name))
		}
	}
	return out
}
