package drawing

// Page is a list whose scene is paper: its origin is the bottom left corner of
// the sheet, y up, in millimetres.
type Page struct {
	Name          string  // for bookmarks and file names; may be empty
	Width, Height float64 // mm, above zero
	List
}
