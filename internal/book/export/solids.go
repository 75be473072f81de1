package export

import (
	"fmt"

	"longgrain/internal/ground/solid"
	"longgrain/internal/paper/mesh"
	"longgrain/internal/paper/step"
	"longgrain/internal/plan"
)

// bodies returns each part as a solid, with its mark and name.
func bodies(p plan.Plan) (out []solid.Body, names []string, err error) {
	for _, part := range p.Assembly.Parts {
		body, err := part.Body()
		if err != nil {
			return nil, nil, fmt.Errorf("make a solid of %s: %w", part.Name, err)
		}
		out, names = append(out, body), append(names, part.Mark+" "+part.Name)
	}
	return out, names, nil
}

// NotCut names the cuts that the solids do not show, with the reason, such as two bores that meet.
func NotCut(p plan.Plan) []string {
	solids, names, err := bodies(p)
	if err != nil {
		return []string{err.Error()}
	}
	var out []string
	for i, b := range solids {
		for _, l := range b.Left {
			out = append(out, names[i]+", "+l)
		}
	}
	return out
}

// inSTEP returns the parts in place with exact surfaces, one product a part.
func inSTEP(p plan.Plan) ([]byte, error) {
	solids, names, err := bodies(p)
	if err != nil {
		return nil, err
	}
	var parts []step.Part
	for i, part := range p.Assembly.Parts {
		parts = append(parts, step.Part{Number: fmt.Sprintf("%d-%s", i+1, part.Mark), Name: names[i], Body: solids[i], Pose: part.Pose, Colour: tone(part.Kind)})
	}
	return step.Write(p.Name, parts), nil
}

func meshed(p plan.Plan) ([]mesh.Part, error) {
	solids, names, err := bodies(p)
	if err != nil {
		return nil, err
	}
	var parts []mesh.Part
	for i, part := range p.Assembly.Parts {
		parts = append(parts, mesh.Part{Name: names[i], Triangles: solids[i].Mesh(), Pose: part.Pose, Colour: tone(part.Kind)})
	}
	return parts, nil
}

func inGLTF(p plan.Plan) ([]byte, error) {
	parts, err := meshed(p)
	if err != nil {
		return nil, err
	}
	return mesh.GLB(p.Name, parts)
}

func inSTL(p plan.Plan) ([]byte, error) {
	parts, err := meshed(p)
	if err != nil {
		return nil, err
	}
	return mesh.STL(parts), nil
}

// tone is the colour of parts alike: pine, a little lighter or darker from kind to kind so that neighbours can be told apart.
func tone(kind int) [3]float64 {
	shade := 1 - 0.05*float64(kind%5)
	return [3]float64{0.87 * shade, 0.72 * shade, 0.52 * shade}
}
