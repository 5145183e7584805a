package lux

// SolvePatches is Solve with surfaces cut into other patches than usual.
var SolvePatches = solve
