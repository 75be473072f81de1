// Package mesh writes meshed solids as binary glTF 2.0, with names, colours and placements, and as binary STL, one body in
// place after the other.
//
// Sources: Khronos glTF 2.0 specification, sections 3 and 4 (binary container), checked by its validator; STL as is common
// practice.
package mesh

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/solid"
)

// Part is the mesh of one solid in its own frame, millimetres, with the pose that places it and its colour, red, green,
// blue from 0 to 1 as shown on a screen.
type Part struct {
	Name      string
	Triangles []solid.Triangle
	Pose      geom.Pose
	Colour    [3]float64
}

const (
	magic      = 0x46546c67 // "glTF"
	chunkJSON  = 0x4e4f534a
	chunkBytes = 0x004e4942
	float      = 5126
	vertices   = 34962
)

type object = map[string]any

// GLB returns the parts as one scene, in metres with the height along y, as glTF asks. Each part is a node of its name.
func GLB(name string, parts []Part) ([]byte, error) {
	var data bytes.Buffer
	views, accessors, meshes, materials, nodes := []object{}, []object{}, []object{}, []object{}, []object{}
	children := []int{}
	put := func(points []geom.Vec, bounds bool) int {
		start := data.Len()
		lo, hi := [3]float32{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}, [3]float32{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
		for _, p := range points {
			for i, x := range [3]float32{float32(p.X), float32(p.Y), float32(p.Z)} {
				lo[i], hi[i] = min(lo[i], x), max(hi[i], x)
				_ = binary.Write(&data, binary.LittleEndian, x) // a buffer takes everything
			}
		}
		views = append(views, object{"buffer": 0, "byteOffset": start, "byteLength": data.Len() - start, "target": vertices})
		a := object{"bufferView": len(views) - 1, "componentType": float, "count": len(points), "type": "VEC3"}
		if bounds {
			a["min"], a["max"] = lo, hi
		}
		accessors = append(accessors, a)
		return len(accessors) - 1
	}
	for _, p := range parts {
		var at, normals []geom.Vec
		for _, t := range p.Triangles {
			n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
			if n.Length() == 0 {
				continue
			}
			n = n.Unit()
			for _, v := range t {
				at, normals = append(at, v.Scale(0.001)), append(normals, n)
			}
		}
		if len(at) == 0 {
			return nil, fmt.Errorf("write %s as glTF: it has no surface", p.Name)
		}
		materials = append(materials, object{"name": p.Name, "pbrMetallicRoughness": object{"baseColorFactor": []float64{linear(p.Colour[0]), linear(p.Colour[1]), linear(p.Colour[2]), 1}, "metallicFactor": 0, "roughnessFactor": 0.8}})
		meshes = append(meshes, object{"name": p.Name, "primitives": []object{{"attributes": object{"POSITION": put(at, true), "NORMAL": put(normals, false)}, "material": len(materials) - 1}}})
		x, y, z, o := p.Pose.Axes[0], p.Pose.Axes[1], p.Pose.Axes[2], p.Pose.Origin.Scale(0.001)
		nodes = append(nodes, object{"name": p.Name, "mesh": len(meshes) - 1, "matrix": []float64{x.X, x.Y, x.Z, 0, y.X, y.Y, y.Z, 0, z.X, z.Y, z.Z, 0, o.X, o.Y, o.Z, 1}})
		children = append(children, len(nodes)-1)
	}
	// A quarter turn takes the height from z to y.
	nodes = append(nodes, object{"name": name, "children": children, "rotation": []float64{-math.Sqrt2 / 2, 0, 0, math.Sqrt2 / 2}})
	head, err := json.Marshal(object{
		"asset": object{"version": "2.0", "generator": "Longgrain"}, "scene": 0, "scenes": []object{{"name": name, "nodes": []int{len(nodes) - 1}}},
		"nodes": nodes, "meshes": meshes, "materials": materials, "accessors": accessors, "bufferViews": views, "buffers": []object{{"byteLength": data.Len()}},
	})
	if err != nil {
		return nil, fmt.Errorf("write %s as glTF: %w", name, err)
	}
	for len(head)%4 != 0 {
		head = append(head, ' ')
	}
	var out bytes.Buffer
	word := func(n int) { _ = binary.Write(&out, binary.LittleEndian, uint32(n)) }
	word(magic)
	word(2)
	word(12 + 8 + len(head) + 8 + data.Len())
	word(len(head))
	word(chunkJSON)
	out.Write(head)
	word(data.Len())
	word(chunkBytes)
	out.Write(data.Bytes())
	return out.Bytes(), nil
}

// linear takes a colour component from a screen to the linear scale of glTF. Source: IEC 61966-2-1 (sRGB), from memory.
func linear(c float64) float64 {
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

// STL returns the parts in place, in millimetres with the height along z.
func STL(parts []Part) []byte {
	var out bytes.Buffer
	out.Write(make([]byte, 80))
	n := 0
	for _, p := range parts {
		n += len(p.Triangles)
	}
	_ = binary.Write(&out, binary.LittleEndian, uint32(n))
	put := func(v geom.Vec) {
		_ = binary.Write(&out, binary.LittleEndian, [3]float32{float32(v.X), float32(v.Y), float32(v.Z)})
	}
	for _, p := range parts {
		for _, t := range p.Triangles {
			normal := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
			if normal.Length() > 0 {
				normal = p.Pose.Turn(normal.Unit())
			}
			put(normal)
			for _, v := range t {
				put(p.Pose.Out(v))
			}
			_ = binary.Write(&out, binary.LittleEndian, uint16(0))
		}
	}
	return out.Bytes()
}
