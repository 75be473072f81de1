package joint

import (
	_ "embed"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

//go:embed minutes.csv
var minutesCSV string

type jointTime struct{ setUp, each unit.Minutes }

var jointTimes = readJointTimes()

func readJointTimes() map[Kind]jointTime {
	out := map[Kind]jointTime{}
	for _, r := range source.Table("minutes.csv", minutesCSV) {
		out[Kind(r.Text("kind"))] = jointTime{unit.Minutes(r.Number("joint")), unit.Minutes(r.Number("each"))}
	}
	return out
}

// minutes returns the working time of one joint with n pins, both parts, marking included. Nobody has published
// such times: they are assumed, and the shop's own times replace them in package schedule.
func minutes(k Kind, n int) unit.Minutes {
	t := jointTimes[k]
	return t.setUp + unit.Minutes(n)*t.each
}
