// Package model holds the nouns of a stair-remodelling job: the job, its
// flight, the steps, the readings taken on them and the overlay to be laid.
//
// It refuses to compute anything about the stair: estimates, rises after the
// overlay, boards and cards belong to package solver. It also knows no file,
// no window and no clock.
//
// # Words
//
// Steps are counted from the bottom. Riser 1 stands on the bottom floor, tread
// 1 lies on it, and so on to riser N; the landing nosing above riser N counts
// as tread N. So a flight of N risers has N steps. Left and right are as seen
// walking up. The front of a tread is its nose.
//
// # Axes
//
// x points right, y up the flight in plan, z up. Lengths are millimetres
// (type Length), angles radians (type Angle). z is zero on the old bottom
// floor. Plan positions are those at the height of the new tread's top, where
// the joint the eye sees will be.
//
// # What is always true
//
//  1. A Job is a value. No method and no Edit changes a Job in place; an edit
//     returns a new one that shares what it did not touch.
//  2. Undo is keeping the old Job.
//  3. Constructors accept; Validate judges and returns every finding.
package model
