package problem

// Code names a kind of problem. Codes are stable: other programs and saved reports may rely on them.
type Code string

// Rule describes one code for docs and tests: the rule that was broken, which reader reports it and
// a smallest input that triggers it.
type Rule struct {
	Code    Code
	Reader  string // "piece", "shop" or "tests"
	Rule    string
	Example string
}

// The problem codes of the readers.
const (
	TooLarge         Code = "too-large"          // the whole input is larger than the reader accepts
	NotYAML          Code = "not-yaml"           // the text cannot be read as YAML
	NotCSV           Code = "not-csv"            // a line that cannot be read as CSV
	Empty            Code = "empty"              // there is no document
	WrongKind        Code = "wrong-kind"         // a value is of another kind than expected
	UnknownKey       Code = "unknown-key"        // a key that the format does not have
	DuplicateKey     Code = "duplicate-key"      // one key twice in one mapping
	MissingKey       Code = "missing-key"        // a key that must be there
	BadVersion       Code = "bad-version"        // the version of the format is not one this program reads
	BadLength        Code = "bad-length"         // a text that is not a length with a unit
	BadForce         Code = "bad-force"          // a text that is not a force with a unit
	OutOfRange       Code = "out-of-range"       // a value beyond what is possible
	UnknownName      Code = "unknown-name"       // a word that is not one of those allowed
	DuplicateName    Code = "duplicate-name"     // two things of one name
	BadExpression    Code = "bad-expression"     // a formula that cannot be worked out
	BadPattern       Code = "bad-pattern"        // a pattern script that fails
	BadGeometry      Code = "bad-geometry"       // parts that cannot be where they are said to be
	NothingToMake    Code = "nothing-to-make"    // a piece without parts
	NotConnected     Code = "not-connected"      // faces that were said to meet but do not
	JointNotPossible Code = "joint-not-possible" // a fixed joint that does not suit its connection
	NoLongerFits     Code = "no-longer-fits"     // a change by hand of something that the piece no longer has
)

// Rules lists every code once, with an example. Tests run each example through its reader.
var Rules = []Rule{
	{TooLarge, "piece", "A file is at most 1 MiB.", ""},
	{NotYAML, "piece", "The file is YAML.", "longgrain: 1\nname: [unclosed\n"},
	{NotCSV, "tests", "Each line is CSV: a cell that holds a quote stands in quotes.", "joint,species,load\ndowels,pi\"ne,950 N\n"},
	{Empty, "piece", "The file has content.", "\n"},
	{WrongKind, "piece", "Each value has the kind that the key asks for.", "longgrain: 1\nname: [a, b]\n"},
	{UnknownKey, "piece", "Only known keys may be used.", "longgrain: 1\nnmae: Stool\n"},
	{DuplicateKey, "piece", "A key stands once.", "longgrain: 1\nname: A\nname: B\n"},
	{MissingKey, "piece", "Required keys are there.", "longgrain: 1\n"},
	{BadVersion, "piece", "The version is one that this program reads.", "longgrain: 99\nname: A\n"},
	{BadLength, "piece", "A length is a number with a unit.", "longgrain: 1\nname: A\npattern: leg-and-apron-table\nsizes:\n  length: 900\n"},
	{BadForce, "tests", "A load is a number with a unit of force.", "joint,species,load\ndowels,pine,950\n"},
	{OutOfRange, "piece", "A size lies in the range of its pattern or of what can be made.", "longgrain: 1\nname: A\npattern: leg-and-apron-table\nsizes:\n  length: 40 m\n"},
	{UnknownName, "piece", "Names of patterns, species, finishes and kinds are known ones.", "longgrain: 1\nname: A\npattern: leg-and-apron-tabel\n"},
	{DuplicateName, "piece", "Every part has a name of its own.", "longgrain: 1\nname: A\nparts:\n  - {name: rail, length: 300 mm, width: 60 mm, thickness: 20 mm}\n  - {name: rail, length: 300 mm, width: 60 mm, thickness: 20 mm}\n"},
	{BadExpression, "piece", "A formula can be worked out.", "longgrain: 1\nname: A\ndimensions:\n  half: 900 mm / 0\nparts:\n  - {name: rail, length: half, width: 60 mm, thickness: 20 mm}\n"},
	{BadPattern, "piece", "A pattern script runs to its end within its limits.", ""},
	{BadGeometry, "piece", "A part is a box with its thickness not above its width.", "longgrain: 1\nname: A\nparts:\n  - {name: rail, length: 300 mm, width: 20 mm, thickness: 60 mm}\n"},
	{NothingToMake, "piece", "A piece has a pattern or parts.", "longgrain: 1\nname: A\n"},
	{NotConnected, "piece", "Connected parts touch.", ""},
	{JointNotPossible, "piece", "A fixed joint suits its connection.", ""},
	{NoLongerFits, "piece", "A change by hand names a part or joint that the piece has.", "longgrain: 1\nname: A\npattern: leg-and-apron-table\nchanges:\n  - {part: low rail front, out: yes}\n"},
}
