package assets

import _ "embed"

//go:embed LICENSE.txt
var licence string

//go:embed third-party.md
var thirdParty string

// Licence returns Risewright's licence as plain text.
func Licence() string { return licence }

// ThirdParty returns the list of libraries and fonts with their licences, as
// Markdown.
func ThirdParty() string { return thirdParty }
