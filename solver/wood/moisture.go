package wood

import "math"

// Moisture returns the moisture content, in percent, that wood comes to in air
// of relative humidity h (0 to 1) at t degrees Celsius: Eq. 4-5, the sorption
// model of Hailwood and Horrobin. h is held to 0 to 1.
func Moisture(h, t float64) float64 {
	h = math.Max(0, math.Min(1, h))
	w := 349 + 1.29*t + 0.0135*t*t
	k := 0.805 + 0.000736*t - 0.00000273*t*t
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	kh := k * h
	return 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))
}

// Least and Most bound the moisture content, in percent, for which coefficients
// of change hold.
const (
	Least = 6.0
	Most  = 14.0
	// fibre is the moisture, in percent, above which wood neither swells nor
	// shrinks.
	fibre = 30.0
)

// Change returns how much a size of di mm at moisture mi percent grows when it
// comes to mf: Eq. 13-2, with the coefficient for the direction. It holds from
// Least to Most percent.
func Change(di, coefficient, mi, mf float64) float64 { return di * coefficient * (mf - mi) }

// ChangeByShrinkage is Change for moistures outside Least to Most, up to 30
// percent: Eq. 13-3, with the shrinkage st from green to ovendry in percent.
func ChangeByShrinkage(di, st, mi, mf float64) float64 {
	mi, mf = math.Min(mi, fibre), math.Min(mf, fibre)
	return di * (mf - mi) / (fibre*100/st - fibre + mi)
}
