package wood

// InteriorMoisture is the moisture content that interior wood is recommended to have in a zone.
type InteriorMoisture struct {
	Average Figure[Moisture]
	Low     Figure[Moisture] // of single pieces; zero value when the source gives none
	High    Figure[Moisture]
}

// The zones that InteriorMoistureOf knows.
const (
	MostOfUS           = "most of the United States"
	DrySouthwest       = "dry southwest"
	WarmHumidCoast     = "warm humid coastal"
	ColdHeatedInWinter = "heated house in a cold climate in winter"
)

// InteriorMoistureOf returns the recommended moisture content of interior wood in a zone.
//
// Source: [wood-handbook] table 13-2; averages read, ranges from memory.
func InteriorMoistureOf(zone string) (InteriorMoisture, bool) {
	average, ok := convert[Moisture](lookupFactor("interior average", zone))
	if !ok {
		return InteriorMoisture{}, false
	}
	low, _ := convert[Moisture](lookupFactor("interior low", zone))
	high, _ := convert[Moisture](lookupFactor("interior high", zone))
	return InteriorMoisture{average, low, high}, true
}
