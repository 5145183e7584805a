package survey

import (
	"math"
	"testing"
)

// nist is a problem of the NIST Statistical Reference Datasets, nonlinear
// regression (certified values seen; project's list of published values,
// section 7). Predict fills the gradient by the parameters.
type nist struct {
	name     string
	start    []float64
	want, sd []float64
	rss      float64
	data     [][2]float64 // y, x
	predict  func(b []float64, x float64, g []float64) float64
}

var misra1a = [][2]float64{{10.07, 77.6}, {14.73, 114.9}, {17.94, 141.1}, {23.93, 190.8}, {29.61, 239.9}, {35.18, 289.0}, {40.02, 332.8},
	{44.82, 378.4}, {50.76, 434.8}, {55.05, 477.3}, {61.01, 536.8}, {66.4, 593.1}, {75.47, 689.1}, {81.78, 760.0}}

func growth(b []float64, x float64, g []float64) float64 {
	e := math.Exp(-b[1] * x)
	g[0], g[1] = 1-e, b[0]*x*e
	return b[0] * (1 - e)
}

func nistProblems() []nist {
	return []nist{
		{name: "Misra1a from its first start", start: []float64{500, 0.0001},
			want: []float64{2.3894212918e+02, 5.5015643181e-04}, sd: []float64{2.7070075241e+00, 7.2668688436e-06},
			rss: 1.2455138894e-01, data: misra1a, predict: growth},
		{name: "Misra1a from its second start", start: []float64{250, 0.0005},
			want: []float64{2.3894212918e+02, 5.5015643181e-04}, sd: []float64{2.7070075241e+00, 7.2668688436e-06},
			rss: 1.2455138894e-01, data: misra1a, predict: growth},
		{name: "DanWood", start: []float64{0.7, 4},
			want: []float64{7.6886226176e-01, 3.8604055871e+00}, sd: []float64{1.8281973860e-02, 5.1726610913e-02},
			rss:  4.3173084083e-03,
			data: [][2]float64{{2.138, 1.309}, {3.421, 1.471}, {3.597, 1.49}, {4.34, 1.565}, {4.882, 1.611}, {5.66, 1.68}},
			predict: func(b []float64, x float64, g []float64) float64 {
				p := math.Pow(x, b[1])
				g[0], g[1] = p, b[0]*p*math.Log(x)
				return b[0] * p
			}},
		{name: "BoxBOD from its second start", start: []float64{100, 0.75},
			want: []float64{2.1380940889e+02, 5.4723748542e-01}, sd: []float64{1.2354515176e+01, 1.0455993237e-01},
			rss:  1.1680088766e+03,
			data: [][2]float64{{109, 1}, {149, 2}, {149, 3}, {191, 5}, {213, 7}, {224, 10}}, predict: growth},
		{name: "Rat42", start: []float64{75, 2.5, 0.07},
			want: []float64{7.2462237576e+01, 2.6180768402e+00, 6.7359200066e-02},
			sd:   []float64{1.7340283401e+00, 8.8295217536e-02, 3.4465663377e-03}, rss: 8.0565229338e+00,
			data: [][2]float64{{8.93, 9}, {10.8, 14}, {18.59, 21}, {22.33, 28}, {39.35, 42}, {56.11, 57}, {61.73, 63}, {64.62, 70}, {67.08, 79}},
			predict: func(b []float64, x float64, g []float64) float64 {
				e := math.Exp(b[1] - b[2]*x)
				f := b[0] / (1 + e)
				g[0], g[1], g[2] = 1/(1+e), -f*e/(1+e), f*e*x/(1+e)
				return f
			}},
		{name: "MGH09 from its second start", start: []float64{0.25, 0.39, 0.415, 0.39},
			want: []float64{1.9280693458e-01, 1.9128232873e-01, 1.2305650693e-01, 1.3606233068e-01},
			sd:   []float64{1.1435312227e-02, 1.9633220911e-01, 8.0842031232e-02, 9.0025542308e-02}, rss: 3.0750560385e-04,
			data: [][2]float64{{0.1957, 4}, {0.1947, 2}, {0.1735, 1}, {0.16, 0.5}, {0.0844, 0.25}, {0.0627, 0.167}, {0.0456, 0.125},
				{0.0342, 0.1}, {0.0323, 0.0833}, {0.0235, 0.0714}, {0.0246, 0.0625}},
			predict: func(b []float64, x float64, g []float64) float64 {
				n, d := x*x+x*b[1], x*x+x*b[2]+b[3]
				g[0], g[1], g[2], g[3] = n/d, b[0]*x/d, -b[0]*n*x/(d*d), -b[0]*n/(d*d)
				return b[0] * n / d
			}},
	}
}

// The Gauss-Newton core, with no stair in it, against NIST's certified values:
// parameters to 8 digits, standard deviations to 6, sums of squares to 9.
func TestNISTCertifiedValues(t *testing.T) {
	for _, c := range nistProblems() {
		t.Run(c.name, func(t *testing.T) {
			n := len(c.start)
			// The core stops on changes of 1e-8, meant for millimetres: let each
			// unknown be a parameter in units of its start.
			sys := &system{n: n, width: n - 1, prior: make([]float64, n), spread: frees(n)}
			b, g := make([]float64, n), make([]float64, n)
			sys.near = func(x []float64, r *row, put func(want, spread float64)) {
				for _, d := range c.data {
					for i := range b {
						b[i] = x[i] * c.start[i]
					}
					r.reset()
					r.predicted = c.predict(b, d[1], g)
					for i := range g {
						r.term(i, g[i]*c.start[i])
					}
					put(d[0], 1)
				}
			}
			ones := make([]float64, n)
			for i := range ones {
				ones[i] = 1
			}
			sol := sys.adjust(ones)
			if sol.status != Converged {
				t.Fatalf("%s after %d iterations", sol.status, sol.iterations)
			}
			near(t, "sum of squares", sol.objective/c.rss, 1, 1e-9)
			s := math.Sqrt(sol.objective / float64(len(c.data)-n))
			for i := range c.want {
				near(t, "parameter", sol.x[i]*c.start[i]/c.want[i], 1, 1e-8)
				near(t, "deviation", s*math.Sqrt(sol.inverse.at(i, i))*c.start[i]/c.sd[i], 1, 1e-6)
			}
		})
	}
}
