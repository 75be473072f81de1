package unit

import (
	"fmt"
	"strconv"
)

// Engineering quantities, each a float in one fixed unit. A value never changes its unit: convert
// when reading, printing or calling a solver.
type (
	Newtons                float64 // force, N
	NewtonMetres           float64 // moment, N·m
	MPa                    float64 // stress or modulus, N/mm²
	NewtonMetresPerRadian  float64 // rotational stiffness, N·m/rad
	NewtonsPerMillimetre   float64 // translational stiffness, N/mm
	Kilograms              float64 // mass, kg
	KilogramsPerCubicMetre float64 // density, kg/m³
	SquareMetres           float64 // area, m²
	CubicMetres            float64 // volume, m³
	Litres                 float64 // liquid volume, L
	Grams                  float64 // small mass, g
	Percent                float64 // moisture content or relative humidity, %
	Celsius                float64 // temperature, °C
	Degrees                float64 // plane angle, °
	Minutes                float64 // working or waiting time, min
)

// Gravity is the standard acceleration of free fall, m/s² (exact by definition, CGPM 1901).
const Gravity = 9.80665

// Weight returns the force of gravity on the mass.
func (m Kilograms) Weight() Newtons { return Newtons(float64(m) * Gravity) }

// Area returns the area of a rectangle of two lengths.
func Area(a, b Length) SquareMetres { return SquareMetres(a.Metres() * b.Metres()) }

// Volume returns the volume of a box of three lengths.
func Volume(a, b, c Length) CubicMetres { return CubicMetres(a.Metres() * b.Metres() * c.Metres()) }

// Mass returns the mass of a volume of the given density.
func (d KilogramsPerCubicMetre) Mass(v CubicMetres) Kilograms {
	return Kilograms(float64(d) * float64(v))
}

// Conversion factors, exact by the 1959 yard and pound agreement.
const (
	NewtonsPerPoundForce = 4.4482216152605
	KilogramsPerPound    = 0.45359237
	MPaPerPSI            = 0.006894757293168
)

// Money is an amount in whole cents of the shop's currency.
type Money int64

// Cents returns the amount nearest to v hundredths.
func Cents(v float64) Money {
	if v < 0 {
		return -Cents(-v)
	}
	return Money(v + 0.5)
}

// String prints the amount with two decimals and no currency sign.
func (m Money) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

// Count says how many of a thing there are: "1 board", "3 boards".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
