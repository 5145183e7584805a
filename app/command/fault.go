package command

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"unicode"

	"risewright/app/papers"
	"risewright/model"
)

// fault is a refusal in two parts: what is wrong and where, and what to do.
type fault struct{ problem, remedy string }

// Error gives both in one line.
func (f fault) Error() string { return f.problem + "; " + f.remedy }

// complain writes an error for people: the trouble, and below it what to do.
func (r *run) complain(err error) {
	problem, remedy := err.Error(), ""
	var own fault
	var file *model.FileError
	var clash *papers.ClashError
	switch {
	case errors.As(err, &own):
		problem, remedy = own.problem, own.remedy
	case errors.As(err, &file):
		// The remedy is told apart; what wraps the error names the file.
		short := *file
		short.Remedy = ""
		problem = strings.Replace(problem, file.Error(), short.Error(), 1)
		remedy = file.Remedy
	case errors.As(err, &clash) && clash.Folders:
		remedy = "move them, or choose another folder with --to"
	case errors.As(err, &clash):
		remedy = "to replace them say --replace, or choose another folder with --to"
	case errors.Is(err, fs.ErrNotExist):
		remedy = `check the name; "risewright solve demo:tapering" shows a demo job`
	case errors.Is(err, syscall.ENOTDIR):
		remedy = "a file stands where a folder has to be; check the name, or choose another folder"
	case errors.Is(err, fs.ErrPermission):
		remedy = "choose a place you may use, or ask whoever looks after this machine"
	}
	fmt.Fprintf(r.err, "risewright: %s\n", problem)
	if remedy != "" {
		fmt.Fprintf(r.err, "  what to do: %s\n", remedy)
	}
}

// shown quotes an argument, cut short and without control characters.
func shown(arg string) string {
	const most = 60
	runes := []rune(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '\ufffd'
		}
		return r
	}, arg))
	if len(runes) > most {
		runes = append(runes[:most-1], '…')
	}
	return "“" + string(runes) + "”"
}

// nearest returns the name that was most likely meant, or "". A name is near
// when at most a third of its letters, and one, must change.
func nearest(typed string, names []string) string {
	best, least := "", 0
	for _, n := range names {
		d := changes(strings.ToLower(typed), n)
		if d <= 1+len(n)/3 && (best == "" || d < least) {
			best, least = n, d
		}
	}
	return best
}

// changes counts the letters to add, drop or replace to make b of a.
func changes(a, b string) int {
	row := make([]int, len(b)+1)
	for k := range row {
		row[k] = k
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for k := range len(b) {
			d := diagonal
			if a[i] != b[k] {
				d++
			}
			diagonal = row[k+1]
			row[k+1] = min(d, row[k]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
