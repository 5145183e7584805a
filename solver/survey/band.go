package survey

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// band is a symmetric positive-definite matrix whose elements farther than
// width from the diagonal are zero. Row i stores elements i to i+width.
type band struct {
	n, width int
	data     []float64
}

func newBand(n, width int) *band {
	if width > n-1 {
		width = n - 1
	}
	return &band{n: n, width: width, data: make([]float64, n*(width+1))}
}

func (m *band) clear() { clear(m.data) }

// add puts v onto the element (i, k) with i <= k.
func (m *band) add(i, k int, v float64) { m.data[i*(m.width+1)+k-i] += v }

// addRow puts the weighted square of an observation onto the matrix.
func (m *band) addRow(r *row, weight float64) {
	for p := 0; p < r.n; p++ {
		gp := r.gradient[p] * weight
		i := int(r.at[p])
		for q := 0; q < r.n; q++ {
			if k := int(r.at[q]); k >= i {
				m.data[i*(m.width+1)+k-i] += gp * r.gradient[q]
			}
		}
	}
}

// factor replaces the matrix by its Cholesky factor U, UᵀU. It returns false
// when the matrix is not positive definite, which priors on every unknown rule
// out but for overflow.
func (m *band) factor() bool {
	_, ok := lapack64.Pbtrf(blas64.SymmetricBand{
		Uplo: blas.Upper, N: m.n, K: m.width, Stride: m.width + 1, Data: m.data,
	})
	return ok
}

// solve replaces x by the solution of the equations with right-hand side x,
// given the factor. Both passes walk the rows of U in memory order, which
// gonum's triangular solver for bands does not.
func (m *band) solve(x []float64) {
	w := m.width + 1
	for i := range x {
		if x[i] == 0 { // before the first term of a far observation
			continue
		}
		u := m.data[i*w : (i+1)*w]
		v := x[i] / u[0]
		x[i] = v
		rest := x[i+1 : i+1+min(m.width, m.n-1-i)]
		u = u[1 : 1+len(rest)]
		for k, f := range u {
			rest[k] -= f * v
		}
	}
	for i := len(x) - 1; i >= 0; i-- {
		u := m.data[i*w : (i+1)*w]
		rest := x[i+1 : i+1+min(m.width, m.n-1-i)]
		sum := x[i]
		d := u[0]
		u = u[1 : 1+len(rest)]
		for k, f := range u {
			sum -= f * rest[k]
		}
		x[i] = sum / d
	}
}

// inverseBand holds the elements of the inverse that lie inside the band, both
// sides of the diagonal, so that a row is contiguous.
type inverseBand struct {
	n, width int
	data     []float64 // row i: elements i-width to i+width
}

// inverse returns the elements of the inverse inside the band, given the
// factor, in time proportional to n·width². From U Z = U⁻ᵀ, whose upper part
// is 1/Uii on the diagonal and zero above it, each row of Z follows from the
// rows below it, and only elements inside the band are ever needed.
func (m *band) inverse() *inverseBand {
	w := m.width
	z := &inverseBand{n: m.n, width: w, data: make([]float64, m.n*(2*w+1))}
	for i := m.n - 1; i >= 0; i-- {
		u := m.data[i*(w+1) : (i+1)*(w+1)]
		reach := min(w, m.n-1-i)
		inv := 1 / u[0]
		for k := i + reach; k > i; k-- {
			// elements (k, i+1 … i+reach) of the inverse lie in row k
			at := k*(2*w+1) + i + 1 - k + w
			zr := z.data[at : at+reach]
			sum := 0.0
			for t, f := range u[1 : 1+reach] {
				sum += f * zr[t]
			}
			v := -sum * inv
			z.data[i*(2*w+1)+k-i+w] = v
			z.data[k*(2*w+1)+i-k+w] = v
		}
		zi := z.data[i*(2*w+1)+w+1:]
		sum := 0.0
		for t := 1; t <= reach; t++ {
			sum += u[t] * zi[t-1]
		}
		z.data[i*(2*w+1)+w] = (inv - sum) * inv
	}
	return z
}

// at returns the element (i, k); it must lie inside the band.
func (z *inverseBand) at(i, k int) float64 { return z.data[i*(2*z.width+1)+k-i+z.width] }
