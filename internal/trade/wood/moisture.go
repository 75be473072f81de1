package wood

import (
	"fmt"
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// Moisture is a moisture content in percent of ovendry mass.
type Moisture float64

// The range of temperature and humidity that the sorption equation was fitted to.
const (
	minSorptionCelsius = -1.2 // 30 °F
	maxSorptionCelsius = 99   // 210 °F
)

// EMCCite is the source of the sorption equation. Checked against the printed table: all cells from
// 30 to 200 °F within 0.06 % moisture. Real wood scatters by about 1 % (judgement: hysteresis,
// species).
var EMCCite = source.At("fpl-rn-0268", "equation 4-5", source.Read)

// sorption holds W, K, K1, K2 as polynomials of temperature in °C.
var sorption = readSorption()

func readSorption() (p [4][3]float64) {
	for i, name := range []string{"W", "K", "K1", "K2"} {
		for power := range 3 {
			p[i][power] = mustFactor("sorption", fmt.Sprintf("%s T^%d", name, power)).Value
		}
	}
	return p
}

// EquilibriumMoisture returns the moisture content that wood takes on in air of one humidity and
// temperature.
//
//	M = (1800/W) [ K h/(1 - K h) + (K1 K h + 2 K1 K2 K² h²) / (1 + K1 K h + K1 K2 K² h²) ]
//
// h is the relative humidity as a ratio; W, K, K1, K2 are quadratic in the temperature. Published
// for -1 to 99 °C and 5 to 95 % humidity; temperatures outside are taken at the nearer end, humidity
// outside 0 to 100 % likewise. Panics on NaN.
//
// Source: [fpl-rn-0268] equation 4-5, also [wood-handbook] equation 4-5.
func EquilibriumMoisture(humidity unit.Percent, temperature unit.Celsius) Moisture {
	if math.IsNaN(float64(humidity)) || math.IsNaN(float64(temperature)) {
		panic("wood: climate is not a number")
	}
	t := min(max(float64(temperature), minSorptionCelsius), maxSorptionCelsius)
	h := min(max(float64(humidity), 0), 100) / 100
	var at [4]float64
	for i, c := range sorption {
		at[i] = c[0] + c[1]*t + c[2]*t*t
	}
	w, k, k1, k2 := at[0], at[1], at[2], at[3]
	kh := k * h
	return Moisture(1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh)))
}

// HumidityFor returns the relative humidity at which wood of a temperature rests at moisture content
// m: the inverse of EquilibriumMoisture, by bisection to 1e-9 %. False when no humidity from 0 to
// 100 % gives m.
func HumidityFor(m Moisture, temperature unit.Celsius) (unit.Percent, bool) {
	low, high := unit.Percent(0), unit.Percent(100)
	if !(m >= 0 && m <= EquilibriumMoisture(high, temperature)) {
		return 0, false
	}
	for high-low > 1e-9 {
		middle := (low + high) / 2
		if EquilibriumMoisture(middle, temperature) < m {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2, true
}
