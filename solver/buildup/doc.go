// Package buildup says what the overlay does to the flight: every rise and
// going before and after, the packing that would make the rises uniform,
// headroom, rail heights and doors, and the smallest changes that bring the
// rises within a code's limits.
//
// It refuses to judge: published limits are held against its figures by
// package solver/rules. It draws and stores nothing.
//
// # Words
//
// Old is what stands there now, new is what will stand there once the overlay
// and the floors are laid. z is measured from the old bottom floor. With N
// risers, tread k (k < N) gains its packing and its board; tread N is the
// landing nosing, laid flush with the finish of the top floor. So
//
//	newTop(0) = floor build-up at the bottom
//	newTop(k) = old top + packing + board        k = 1 … N-1
//	newTop(N) = old top + floor build-up at the top
//	rise(k)   = newTop(k) - newTop(k-1)
//
// at the left and at the right nose corner. Packing laid under the landing
// nosing does not move its top.
//
// A stair with landings is several flights (Run). Each has its own number of
// risers and its own floors, a landing's build-up serves the two that meet on
// it, and rises and goings are compared within a flight only. Treads of a turn
// (Winder) are measured along a walking line, wherever a code puts it.
//
// Spreads are one standard deviation. Only the survey's uncertainty is in
// them: boards and floors count as laid to the size given.
//
// # What is always true
//
//  1. Compute is pure. The same job and survey give the same result.
//  2. The new rises of each side add up to the old ones less the bottom
//     floor's build-up plus the top floor's.
//  3. Mirroring the job swaps left and right and changes nothing else.
//  4. Every Remedy has been applied to the job and computed again before it is
//     returned.
//
// Sources: the packing rule, the loss of headroom f·R/G and the choice of
// fixes are common practice, no source.
package buildup
