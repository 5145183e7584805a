package walk

import "math"

// Walker is one person on one walk. Places along the flight count steps: k-1 at
// the nose of riser k, so that position k lies between k-1 and k.
type Walker struct {
	Name  string  // who, such as the title of a pace
	Start float64 // seconds at which they are at From
	From  float64
	Legs  []Leg
}

// Leg is a part of a walk: to a place, and a stand there.
type Leg struct {
	To    float64
	Speed float64 // steps a second
	Wait  float64 // seconds to stand there
	// Fidget is the time from one small movement to the next while they stand; 0
	// stands quite still.
	Fidget float64
}

// UsualPace is how fast somebody counts as walking of whom nothing is known,
// steps a second: an adult's usual pace of about half a second a step; from memory.
const UsualPace = 1.8

// Position returns the position of a place along the flight: negative before
// position 0, and more than risers behind the top floor's first.
func Position(along float64) int { return int(math.Floor(along)) + 1 }

// Place is where a walker is at a moment.
type Place struct {
	Along  float64
	Way    int  // 1 up, -1 down, 0 stands
	Moving bool // enough to be seen
	// On and Lifting are the positions that a foot stands on: the body's own, and
	// for a moment the one it comes from. They are the same while only one counts.
	On, Lifting int
}

// lift is the part of a step for which the rear foot is still on the step behind:
// both feet are down for about a fifth of the time; from memory.
const lift = 0.2

// body is a walker on the way.
type body struct {
	w       *Walker
	leg     int
	at      float64
	wait    float64 // left
	fidget  float64 // until the next small movement
	place   Place
	prev    int // position before the one they are in
	done    bool
	seen    int // tick from which they count as seen, or -1
	landed  int // position that the last foot landed on
	darkFor int // ticks on dark steps while coming in
}

func (b *body) begin(w *Walker) {
	*b = body{w: w, at: w.From, seen: -1}
	b.prev = Position(b.at)
	b.landed = b.prev
	b.place = Place{Along: b.at, On: b.prev, Lifting: b.prev}
}

// step takes a walker on by dt seconds.
func (b *body) step(dt float64) {
	b.place.Way, b.place.Moving = 0, false
	for left := dt; left > 0 && !b.done; {
		if b.leg >= len(b.w.Legs) {
			b.done = true
			break
		}
		l := &b.w.Legs[b.leg]
		d := l.To - b.at
		if d == 0 {
			left = b.stand(l, left)
			continue
		}
		way, far := 1, d
		if d < 0 {
			way, far = -1, -d
		}
		b.place.Way, b.place.Moving = way, true
		if gone := l.Speed * left; gone < far {
			b.to(b.at + float64(way)*gone)
			left = 0
		} else {
			left -= far / l.Speed
			b.to(l.To)
			b.wait, b.fidget = l.Wait, l.Fidget
			if l.Wait <= 0 {
				b.leg++
			}
		}
	}
	b.stands()
}

// stands works out where the feet are.
func (b *body) stands() {
	b.place.Along = b.at
	on := Position(b.at)
	b.place.On, b.place.Lifting = on, on
	if b.place.Way != 0 && b.prev != on {
		in := b.at - math.Floor(b.at)
		if b.prev > on {
			in = 1 - in
		}
		if in < lift {
			b.place.Lifting = b.prev
		}
	}
}

// stand lets a walker stand for a while and returns what is left of the time.
func (b *body) stand(l *Leg, left float64) float64 {
	d := min(left, b.wait)
	b.wait -= d
	if l.Fidget > 0 {
		if b.fidget -= d; b.fidget <= 0 {
			b.fidget += l.Fidget
			b.place.Moving = true
		}
	}
	if b.wait <= 1e-9 {
		b.leg++
	}
	return left - d
}

func (b *body) to(at float64) {
	if was, now := Position(b.at), Position(at); was != now {
		b.prev = was
	}
	b.at = at
}
