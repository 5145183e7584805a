package fitting

import (
	"risewright/model"
	"risewright/solver/pieces"
)

// parts are the blocks that scenes are put together from. Many scenes differ in
// one side only, so each part is made once.
type parts struct {
	old    map[model.BackJoint][][]block
	walls  map[sideKey][][]block
	skirts map[sideKey]along
	boards map[boardKey][]block
}

// sideKey is all that the wall and the board of a side hang on.
type sideKey struct {
	back model.BackJoint
	side int
	sideShape
}

// along is a board along the flight, and the step of each of its blocks.
type along struct {
	blocks []block
	at     []int
}

// boardKey is all that a riser or tread of a step hangs on.
type boardKey struct {
	back  model.BackJoint
	step  int
	riser bool
	open  [2]bool
	ends  [2]float64
}

func newParts() parts {
	return parts{map[model.BackJoint][][]block{}, map[sideKey][][]block{}, map[sideKey]along{}, map[boardKey][]block{}}
}

// after returns the step after step i, or nil.
func after(sites []site, i int) *site {
	if i+1 < len(sites) {
		return &sites[i+1]
	}
	return nil
}

// oldWork returns the old steps.
func (s *search) oldWork(back model.BackJoint) [][]block {
	out, ok := s.parts.old[back]
	if !ok {
		sites := s.sites[back]
		for i := range sites {
			out = append(out, sites[i].oldWork(after(sites, i)))
		}
		s.parts.old[back] = out
	}
	return out
}

// walls returns the wall of a side along each step.
func (s *search) walls(back model.BackJoint, side int, sh *sideShape) [][]block {
	key := sideKey{back, side, *sh}
	out, ok := s.parts.walls[key]
	if !ok {
		sites := s.sites[back]
		out = make([][]block, len(sites))
		for i := range sites {
			if !sh.open && !s.ends.open[side][i] {
				out[i] = sites[i].layer(side, i == 0, after(sites, i), sh.wall-wallDepth, sh.wall, wallRise)
			}
		}
		s.parts.walls[key] = out
	}
	return out
}

// skirt returns the board of a side.
func (s *search) skirt(back model.BackJoint, side int, sh *sideShape) ([]block, []int) {
	key := sideKey{back, side, *sh}
	out, ok := s.parts.skirts[key]
	if !ok {
		sites := s.sites[back]
		for i := range sites {
			if s.ends.open[side][i] {
				continue
			}
			for _, b := range sites[i].skirtBlocks(side, sh, i == 0, after(sites, i), s.spec.Undercut) {
				out.blocks, out.at = append(out.blocks, b), append(out.at, i)
			}
		}
		s.parts.skirts[key] = out
	}
	return out.blocks, out.at
}

// board returns the riser or tread p of step i between such sides, nothing when
// it is no plain board.
func (s *search) board(back model.BackJoint, i int, p *pieces.Piece, sides [2]sideShape) []block {
	key := boardKey{back: back, step: i, riser: p.Kind == pieces.Riser}
	for k := range sides {
		key.open[k], key.ends[k] = sides[k].open, sides[k].treadEnds
		if key.riser {
			key.ends[k] = sides[k].riserEnds
		}
	}
	out, ok := s.parts.boards[key]
	if !ok {
		if b, is := s.sites[back][i].board(p, sides); is {
			out = []block{b}
		}
		s.parts.boards[key] = out
	}
	return out
}
