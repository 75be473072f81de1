// Package hardware knows the things of the shop that are neither wood, glue nor finish: tools by what
// they can do, clamps by what they can press, dowels, screws, biscuits, fastenings for tops and
// sanding steps.
//
// The tables are embedded; every row says where it is from and how sure it is. Many sizes are
// customary and differ by supplier: they are starting values for a shop to change. The package holds
// no rules for choosing among these things.
package hardware

import (
	_ "embed"
	"slices"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Job is one thing that a tool can do.
type Job string

// The jobs.
const (
	Rip             Job = "rip"
	Crosscut        Job = "crosscut"
	Resaw           Job = "resaw"
	Curve           Job = "curve"
	Taper           Job = "taper"
	Flatten         Job = "flatten"   // one true face
	Edge            Job = "edge"      // one true edge
	Thickness       Job = "thickness" // second face parallel to the first
	Groove          Job = "groove"
	Rabbet          Job = "rabbet"
	CutMortise      Job = "mortise"
	RoughMortise    Job = "mortise-rough" // bore out the waste of a mortise
	CutTenon        Job = "tenon"
	CutDovetail     Job = "dovetail"
	Pare            Job = "pare"
	BoreFace        Job = "bore-face"
	BoreEdge        Job = "bore-edge"
	BoreEnd         Job = "bore-end"
	BoreLarge       Job = "bore-large"
	CutBiscuitSlot  Job = "biscuit"
	BorePocketHole  Job = "pocket-hole"
	CutLooseTenon   Job = "loose-tenon"
	RoundEdge       Job = "round-edge"
	Chamfer         Job = "chamfer"
	Sand            Job = "sand"
	Drive           Job = "drive" // screws
	Mark            Job = "mark"
	MeasureMoisture Job = "measure-moisture"
)

// Tool is a kind of tool.
type Tool struct {
	ID   string      `json:"id"` // as written in shop files: "drill-press"
	Name string      `json:"name"`
	Jobs []Job       `json:"jobs"`
	Cite source.Cite `json:"cite"`
}

//go:embed tools.csv
var toolsCSV string

//go:embed clamps.csv
var clampsCSV string

var (
	tools  = readTools()
	clamps = readClamps()
)

func readTools() []Tool {
	var out []Tool
	for _, r := range source.Table("tools.csv", toolsCSV) {
		t := Tool{ID: r.Text("id"), Name: r.Text("name"), Cite: r.Cite()}
		for job := range strings.SplitSeq(r.Text("jobs"), ";") {
			t.Jobs = append(t.Jobs, Job(job))
		}
		out = append(out, t)
	}
	return out
}

// LookupTool returns the tool of an id.
func LookupTool(id string) (Tool, bool) {
	i := slices.IndexFunc(tools, func(t Tool) bool { return t.ID == id })
	if i < 0 {
		return Tool{}, false
	}
	return tools[i], true
}

// ToolIDs returns the ids of all tools in the order of the table.
func ToolIDs() []string {
	out := make([]string, len(tools))
	for i, t := range tools {
		out[i] = t.ID
	}
	return out
}

// Can tells whether the tool does a job.
func (t Tool) Can(j Job) bool { return slices.Contains(t.Jobs, j) }

// ToolsFor returns the ids of the tools that do a job.
func ToolsFor(j Job) []string {
	var out []string
	for _, t := range tools {
		if t.Can(j) {
			out = append(out, t.ID)
		}
	}
	return out
}

// Clamp is a kind of clamp. Forces are what a hand can tighten, not what a maker states.
type Clamp struct {
	ID          string       `json:"id"` // as written in shop files: "parallel"
	Name        string       `json:"name"`
	Force       unit.Newtons `json:"force"` // to plan with
	ForceLow    unit.Newtons `json:"forceLow"`
	ForceHigh   unit.Newtons `json:"forceHigh"`
	ReachLow    unit.Length  `json:"reachLow"` // from the bar to the middle of the jaw; zero where it has no meaning
	ReachHigh   unit.Length  `json:"reachHigh"`
	OpeningLow  unit.Length  `json:"openingLow"` // the openings that are sold
	OpeningHigh unit.Length  `json:"openingHigh"`
	Note        string       `json:"note,omitempty"`
	Cite        source.Cite  `json:"cite"`
}

func mm(r source.Row, column string) unit.Length { return unit.MM(r.Number(column)) }

func readClamps() []Clamp {
	var out []Clamp
	for _, r := range source.Table("clamps.csv", clampsCSV) {
		force := func(column string) unit.Newtons { return unit.Newtons(r.Number(column)) }
		out = append(out, Clamp{
			ID: r.Text("id"), Name: r.Text("name"),
			Force: force("force"), ForceLow: force("force-low"), ForceHigh: force("force-high"),
			ReachLow: mm(r, "reach-low"), ReachHigh: mm(r, "reach-high"),
			OpeningLow: mm(r, "opening-low"), OpeningHigh: mm(r, "opening-high"),
			Note: r.Text("note"), Cite: r.Cite(),
		})
	}
	return out
}

// LookupClamp returns the clamp of an id.
func LookupClamp(id string) (Clamp, bool) {
	i := slices.IndexFunc(clamps, func(c Clamp) bool { return c.ID == id })
	if i < 0 {
		return Clamp{}, false
	}
	return clamps[i], true
}

// ClampIDs returns the ids of all kinds of clamps in the order of the table.
func ClampIDs() []string {
	out := make([]string, len(clamps))
	for i, c := range clamps {
		out[i] = c.ID
	}
	return out
}

// ClampSpacing and ClampFromEnd say where clamps go along a glue line: the distance between them and
// from the end to the first. Source: [pva-guidance], 200 to 300 mm and 40 to 50 mm, read.
const (
	ClampSpacing = 250 * unit.Millimetre
	ClampFromEnd = 45 * unit.Millimetre
)

// FindTool returns the tool that a person means by its id or name, whatever the case and hyphens.
func FindTool(name string) (Tool, bool) {
	for _, x := range tools {
		if problem.SameName(x.ID, name) || problem.SameName(x.Name, name) {
			return x, true
		}
	}
	return Tool{}, false
}

// ToolNames returns the names of all tools as a person writes them, in the order of the table.
func ToolNames() []string {
	out := make([]string, len(tools))
	for i, x := range tools {
		out[i] = x.Name
	}
	return out
}

// FindClamp returns the clamp that a person means by its id or name, whatever the case and hyphens.
func FindClamp(name string) (Clamp, bool) {
	for _, x := range clamps {
		if problem.SameName(x.ID, name) || problem.SameName(x.Name, name) {
			return x, true
		}
	}
	return Clamp{}, false
}

// ClampNames returns the names of all clamps as a person writes them, in the order of the table.
func ClampNames() []string {
	out := make([]string, len(clamps))
	for i, x := range clamps {
		out[i] = x.Name
	}
	return out
}
