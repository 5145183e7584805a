// Package still makes the slow, true picture of a scene: light is followed from
// the eye back to the lamps (path tracing), so that soft shadows, light that
// comes back from walls and the sheen of a finish are what they would be. It
// reads a [scene.Scene] and nothing else.
//
// It refuses to know files, the clock and the window: the clock is handed in,
// and what comes out is an image in memory, or bytes for a writer.
//
// # Words
//
// A sample is one path from the eye, at one place in a pixel. A pass gives every
// pixel one sample; a sixteenth is a pass over every sixteenth pixel, which is
// how often a picture can be looked at. Light is linear RGB with the primaries
// of sRGB, in candela per square metre; its luminance is that of
// scene.Colour.Luminance. Lengths are millimetres.
//
// # How it computes
//
//   - What a ray meets is found in a tree of boxes, split by the surface area
//     heuristic.
//   - At every place one lamp is asked for its light, chosen by how much it may
//     give there, at a point chosen evenly over the solid angle that its
//     rectangle fills (Ureña, Fajardo and King 2013). The next direction is
//     chosen by the material. Both ways of finding a lamp are weighed together
//     by the balance heuristic (Veach 1995).
//   - A material is a diffuse body under a clear coat of index 1.5. The coat is a
//     rough mirror (GGX; Walter 2007, Heitz 2018), and the body gets what the
//     coat does not take, in both directions (Kelemen and Szirmay-Kalos 2001), so
//     that a white body under a coat gives back all its light.
//   - Paths end by chance and are made stronger when they do not, so that on the
//     average nothing is lost.
//   - Places and directions come from Sobol's sequence, scrambled by Owen's
//     method with hashes (Burley 2020).
//
// Formulas are from memory of the papers named; the tests hold them to closed
// forms and to published values.
//
// # What is always true
//
//  1. The same scene, camera, options and number of samples give the same bytes,
//     however many goroutines work. A stop by time or by error is the only thing
//     that depends on the machine.
//  2. Twice the light of every lamp and of the sky gives twice the light in
//     every pixel.
//  3. A picture can be looked at, and kept, at any moment.
//  4. With Options.True, and for a [Meter], light is free of bias. Without, what
//     reaches the second surface that a path meets is looked up in a map of
//     patches, and a coat seen by way of another surface is softened; both keep
//     the energy.
package still
