// Package version says which version of the program this is.
package version

// Number is the version, as in FyneApp.toml.
const Number = "0.1.0"

// Program is the name and version that papers and files carry.
const Program = "Risewright " + Number
