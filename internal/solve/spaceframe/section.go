package spaceframe

import "math"

// Section is a member's cross section in its local axes.
//
// Area carries axial force. Iy resists bending about y (deflection along z), Iz bending about z. J is the
// St Venant torsion constant. Ay and Az are the shear areas for shear force along y and z (shear coefficient
// times area); 0 means no shear strain.
type Section struct {
	Area, Iy, Iz, J, Ay, Az float64
}

// RectangleShearCoefficient is the share of a rectangle's area that works in shear: 5/6, from equating the
// strain energy of the parabolic shear stress; Timoshenko beams, any textbook.
const RectangleShearCoefficient = 5.0 / 6.0

// Rectangle returns the section b wide along local y and h deep along local z.
// Panics unless both are positive.
func Rectangle(b, h float64) Section {
	return Section{
		Area: b * h,
		Iy:   b * h * h * h / 12,
		Iz:   h * b * b * b / 12,
		J:    RectangleTorsion(b, h),
		Ay:   RectangleShearCoefficient * b * h,
		Az:   RectangleShearCoefficient * b * h,
	}
}

// RectangleTorsion returns the St Venant torsion constant of a rectangle.
//
//	J = a b^3 (1/3 - 64/pi^5 (b/a) sum over odd n of tanh(n pi a/(2b))/n^5)
//
// a is the longer and b the shorter side, any length unit; J is in its fourth power. The series is summed to
// rounding. Panics unless both sides are positive.
//
// Source: Timoshenko and Goodier, Theory of Elasticity, torsion of a rectangular bar (formula from memory;
// values 0.14058 a^4 for the square and J of 20x90 checked in section_test.go).
func RectangleTorsion(side, other float64) float64 {
	if !(side > 0 && other > 0) {
		panic("spaceframe: rectangle without positive sides")
	}
	a, b := math.Max(side, other), math.Min(side, other)
	sum := 0.0
	for n := 1.0; n < 2000; n += 2 {
		term := math.Tanh(n*math.Pi*a/(2*b)) / math.Pow(n, 5)
		sum += term
		if term < 1e-17 {
			break
		}
	}
	return a * b * b * b * (1.0/3 - 64/math.Pow(math.Pi, 5)*(b/a)*sum)
}
