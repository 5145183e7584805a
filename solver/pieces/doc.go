// Package pieces makes every board of the overlay as a solid: treads, risers
// and the landing nosing. Cards, drawings, templates and the 3D picture all
// read the same solid.
//
// It refuses to judge the stair (package rules does) and knows no saw (package
// saw does).
package pieces
