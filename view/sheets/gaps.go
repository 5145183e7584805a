package sheets

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver"
)

// gaps is what the readings of a job leave open: papers say it before anything
// else, and print no lengths at all where nobody has measured.
type gaps struct {
	nothing bool  // no step and no flight was ever read
	unread  []int // steps nobody read
	soft    []int // steps read over carpet only
}

// gapsOf looks through the readings in use. What was guessed counts for nothing.
func gapsOf(j *model.Job) gaps {
	var g gaps
	read := false
	best := func(rs []model.Reading) (any, bare bool) {
		for i := range rs {
			r := &rs[i]
			if r.Aside || r.State == model.Guessed {
				continue
			}
			any = true
			bare = bare || r.State != model.OverCarpet
		}
		return any, bare
	}
	if any, _ := best(j.Flight.Readings); any {
		read = true
	}
	for i := range j.Flight.Steps {
		switch any, bare := best(j.Flight.Steps[i].Readings); {
		case !any:
			g.unread = append(g.unread, i+1)
		case !bare:
			g.soft = append(g.soft, i+1)
			read = true
		default:
			read = true
		}
	}
	g.nothing = !read
	return g
}

// unmeasured says what the readings leave open, if anything, and reports whether
// nothing was measured at all.
func (b *book) unmeasured(j *model.Job) bool {
	g := gapsOf(j)
	if g.nothing {
		b.missing("nothing is measured yet: all that is known of this stair is a sketch", "take the survey sheet to the stair and write this paper again; its lengths follow from the readings")
		b.y += 1
		return true
	}
	var open []string
	if len(g.unread) > 0 {
		open = append(open, fmt.Sprintf("%s not read: what is said there follows from the sketch and the steps beside", stepsWords(g.unread)))
	}
	if len(g.soft) > 0 {
		open = append(open, fmt.Sprintf("%s read over carpet only", stepsWords(g.soft)))
	}
	if len(open) > 0 {
		b.missing(strings.Join(open, "; "), "read these steps on bare wood and write this paper again")
		b.y += 1
	}
	return false
}

// stepsWords names steps with their verb: "step 3 was", "steps 5 to 8 were".
func stepsWords(ks []int) string {
	if len(ks) == 1 {
		return fmt.Sprintf("step %d was", ks[0])
	}
	return fmt.Sprintf("steps %s were", Steps(ks))
}

// woodMissing says that nobody chose the wood, where that is so.
func (k *worker) woodMissing() {
	if k.job.Shop.Species != "" {
		return
	}
	first := strings.ToLower(k.w.Species.Name)
	if first == "" {
		k.missing("no wood is chosen, and the table of woods is empty", "put the table back and choose a wood under Buy")
	} else {
		k.missing("no wood is chosen: what needs one reckons with "+first+", the first of the table", "choose the wood under Buy and write this paper again")
	}
	k.y += 1
}

// woodWords names the chosen wood.
func woodWords(w *solver.Work) string {
	if w.Answer.Job.Shop.Species == "" {
		return "wood that is not chosen yet"
	}
	return strings.ToLower(w.Species.Name)
}
