package scene

import (
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// This file holds what both renderers do alike.

// Curve bends what is too bright for a screen: the curve of Reinhard and others
// (2002, their equation 4; from memory), whose brightest light comes out white and
// whose shoulder keeps the glow under a nose apart from the tread that it lights;
// and a little contrast in the darks. Its argument and its value are linear, the
// value 0 to 1; 0 stays 0.
func Curve(v float64) float64 {
	const white, gain, toe = 7, 1.55, 1.13
	if !(v > 0) {
		return 0
	}
	v = gain * math.Min(v, white)
	return math.Min(math.Pow(v*(1+v/(white*white))/(1+v), toe), 1)
}

// Share calls do for every number from 0 to n, on so many goroutines (0 means one
// for each core), until the context ends; it then returns its error. What is done
// for one number must depend on nothing that another writes.
func Share(ctx context.Context, n, workers int, do func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(workers, n) {
		wait.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}
