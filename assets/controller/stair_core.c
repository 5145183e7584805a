/* The rules of the stair's light bars; see stair_core.h. Keep it in step with
 * package solver/walk, function by function: a test holds the two together. */
#include "stair_core.h"

#include <string.h>

/* The layout of the tables; see encode.go. */
#define AT_COUNTS 2u
#define AT_SMALL 5u
#define AT_TIMES 12u
#define AT_REVERT 38u
#define AT_WALK 42u
#define AT_GAMMA 46u
#define AT_CLIP 302u
#define SENSOR_BYTES 20u
#define SCENE_BYTES 40u
#define MAX_SCENES 8u

enum { TICK_MS, WARM, STILL, STUCK, ALL_ON, KEEP, ORDER, HALL, RUN, LATE, PART, RISE, FALL };
enum { INPUT = 0, SURE = 1, MAY = 3, END = 5, WINDOW = 6, QUIET = 12, TRAIL = 14, RUN_UP = 16, RUN_DOWN = 18 };
enum { KIND, INDEX, PATTERN, COLOURS, PERIOD, COLOUR = 8 };
enum { CAME_UNKNOWN, CAME_BELOW, CAME_ABOVE };
enum { SCENE_WALK, SCENE_STEADY, SCENE_NIGHT, SCENE_SEASONAL, SCENE_OFF };
enum { STILL_PATTERN, ALTERNATE, CHASE, TWINKLE };
enum { COVERED = 1, OPEN = 2, SEEN = 4, FRESH = 8 };
enum { TWO_TRIGGERS = 1, HAS_DAYLIGHT = 2 };
enum { END_BOTTOM = 1, END_TOP = 2 };

static uint8_t u8(const sc_core *c, uint16_t at) { return RW_READ(c->tables + at); }

static uint16_t u16(const sc_core *c, uint16_t at)
{
	return (uint16_t)(u8(c, at) | (uint16_t)u8(c, (uint16_t)(at + 1)) << 8);
}

static uint32_t u32(const sc_core *c, uint16_t at)
{
	return (uint32_t)u16(c, at) | (uint32_t)u16(c, (uint16_t)(at + 2)) << 16;
}

static uint16_t ticks(const sc_core *c, uint8_t which) { return u16(c, (uint16_t)(AT_TIMES + 2u * which)); }

static uint16_t row(const sc_core *c, uint8_t s) { return (uint16_t)(c->at_sensors + SENSOR_BYTES * s); }

static uint16_t scene_row(const sc_core *c) { return (uint16_t)(c->at_scenes + SCENE_BYTES * c->scene); }

static uint16_t bit(uint8_t s) { return (uint16_t)(1u << s); }

static void up16(uint16_t *v)
{
	if (*v < 65535u)
		(*v)++;
}

static void fill(sc_core *c)
{
	uint8_t k;
	for (k = 0; k <= c->bars; k++)
		c->age[k] = c->dwell;
}

/* usable says whether a sensor is neither stuck nor silent. */
static uint8_t usable(const sc_core *c, uint8_t s) { return ((c->masked | c->silent) & bit(s)) == 0; }

/* next_usable returns the nearest working sensor from s in a direction, or -1. */
static int8_t next_usable(const sc_core *c, int8_t s, int8_t by)
{
	for (s = (int8_t)(s + by); s >= 0 && s < (int8_t)c->sensors; s = (int8_t)(s + by))
		if (usable(c, (uint8_t)s))
			return s;
	return -1;
}

static void show_scene(sc_core *c, uint8_t scene)
{
	c->scene = scene;
	c->phase = 0;
	c->shown = 0;
}

/* button steps to the next scene when the button has been down for two ticks. */
static void button(sc_core *c, uint8_t down)
{
	uint32_t revert = u32(c, AT_REVERT);
	c->phase++;
	if (c->phase >= u32(c, (uint16_t)(scene_row(c) + PERIOD)))
		c->phase = 0;
	if (u8(c, (uint16_t)(scene_row(c) + KIND)) == SCENE_SEASONAL && revert > 0) {
		c->shown++;
		if (c->shown >= revert)
			show_scene(c, 0);
	}
	if (!down) {
		c->pressed = 0;
		return;
	}
	if (c->pressed < 3)
		c->pressed++;
	if (c->pressed == 2)
		show_scene(c, (uint8_t)(c->scene + 1u >= c->scenes ? 0u : c->scene + 1u));
}

/* read_inputs takes in the sensors and says whether they may be trusted. */
static uint8_t read_inputs(sc_core *c, uint16_t inputs, uint8_t lost)
{
	uint8_t s;
	uint16_t stuck = ticks(c, STUCK);
	if (c->warm > 0 || lost) {
		if (c->warm > 0)
			c->warm--;
		c->on = c->rose = c->masked = c->silent = c->all = c->run = 0;
		for (s = 0; s < c->sensors; s++) {
			c->low[s] = c->high[s] = c->keep[s] = c->trail[s] = c->asked[s] = 0;
			c->came[s] = CAME_UNKNOWN;
		}
		return 0;
	}
	c->rose = 0;
	for (s = 0; s < c->sensors; s++) {
		uint16_t b = bit(s), off = (uint16_t)~b;
		up16(&c->since[s]);
		if ((inputs & bit(u8(c, (uint16_t)(row(c, s) + INPUT)))) == 0) {
			c->on &= off;
			c->masked &= off;
			c->high[s] = 0;
			up16(&c->low[s]);
			continue;
		}
		if ((c->on & b) == 0) {
			c->rose |= b;
			c->since[s] = 0;
		}
		c->on |= b;
		c->silent &= off;
		c->low[s] = 0;
		up16(&c->high[s]);
		if (c->high[s] >= stuck)
			c->masked |= b;
	}
	return 1;
}

/* judge says of every position and border what the sensors say about it. */
static void judge(sc_core *c)
{
	uint8_t s, k;
	uint16_t still = ticks(c, STILL);
	for (k = 0; k <= c->bars; k++)
		c->mark[k] = 0;
	for (s = 0; s < c->sensors; s++) {
		uint16_t at = row(c, s), quiet = u16(c, (uint16_t)(at + QUIET));
		uint8_t first = u8(c, (uint16_t)(at + SURE)), last = u8(c, (uint16_t)(at + SURE + 1));
		uint8_t border = COVERED, place = SEEN;
		if (!usable(c, s) || last < first)
			continue;
		if (c->low[s] < quiet)
			border |= OPEN;
		if ((uint32_t)c->low[s] < (uint32_t)quiet + still)
			place |= FRESH;
		if (first > 0)
			c->mark[first - 1] |= border;
		for (k = first; k <= last; k++)
			c->mark[k] |= (uint8_t)(border | place);
	}
}

/* crossable says whether somebody may have crossed from position k to k+1 or
 * back. */
static uint8_t crossable(const sc_core *c, uint8_t k) { return (c->mark[k] & (COVERED | OPEN)) != COVERED; }

/* remove_gone takes positions out of the set where somebody would have been seen
 * to move by now. */
static void remove_gone(sc_core *c)
{
	uint8_t s, k, n = c->bars, on = 0, none = 1, low = 0, high = n, gone;
	uint16_t least = 65535u, end = 65535u, quiet = 0, still = ticks(c, STILL);
	uint32_t long_still;
	for (s = 0; s < c->sensors; s++) {
		uint16_t q;
		if (!usable(c, s))
			continue;
		none = 0;
		if (c->on & bit(s))
			on = 1;
		if (u8(c, (uint16_t)(row(c, s) + END)) != 0 && c->low[s] < end)
			end = c->low[s];
		if (c->low[s] < least)
			least = c->low[s];
		q = u16(c, (uint16_t)(row(c, s) + QUIET));
		if (q > quiet)
			quiet = q;
	}
	if (none) {
		fill(c);
		return;
	}
	if (on)
		c->last_end = end <= ticks(c, PART);
	long_still = (uint32_t)quiet + still;
	if (!on && !c->last_end) {
		if (least >= long_still)
			fill(c); /* somebody stands on the stair and cannot be told where */
		return;
	}
	/* Steps that lie open to a floor, with no sensor on the way, stay. */
	while (low < n && crossable(c, low) && (c->mark[low + 1] & SEEN) == 0)
		low++;
	while (high > 0 && crossable(c, (uint8_t)(high - 1)) && (c->mark[high - 1] & SEEN) == 0)
		high--;
	gone = least >= long_still + still;
	for (k = 1; k < n; k++) {
		uint8_t m = c->mark[k] & (SEEN | FRESH);
		if (m == SEEN)
			c->age[k] = 0;
		else if (m == 0 && gone && k > low && k < high)
			c->age[k] = 0;
	}
}

/* grow lets everybody walk on for a tick, as fast as they can. */
static void grow(sc_core *c)
{
	uint8_t k, n = c->bars, dwell = c->dwell;
	for (k = 1; k < n; k++)
		if (c->age[k] > 0 && c->age[k] < dwell)
			c->age[k]++;
	c->age[0] = c->age[n] = dwell;
	/* Whoever joins has age 1, less than dwell, and so is not carried further in
	 * the same tick. */
	for (k = 0; k <= n; k++) {
		if (c->age[k] < dwell)
			continue;
		if (k < n && c->age[k + 1] == 0 && crossable(c, k))
			c->age[k + 1] = 1;
		if (k > 0 && c->age[k - 1] == 0 && crossable(c, (uint8_t)(k - 1)))
			c->age[k - 1] = 1;
	}
}

/* possible says whether by the set somebody may be where a sensor has come on.
 * The set is about a moment that lies the latency back, and so was the movement,
 * or less; so the question is asked over that time. */
static uint8_t possible(const sc_core *c, uint8_t s)
{
	uint8_t first = u8(c, (uint16_t)(row(c, s) + MAY)), last = u8(c, (uint16_t)(row(c, s) + MAY + 1));
	uint8_t k;
	for (k = first; k <= last; k++)
		if (c->age[k] > 0)
			return 1;
	return 0;
}

/* conflict lights the whole flight, because sensor s came on where nobody could
 * be, and leaves out the neighbour that should have been passed on the way. */
static void conflict(sc_core *c, uint8_t s)
{
	int8_t by;
	uint16_t passed = 0, ends = 0;
	c->all = ticks(c, ALL_ON);
	up16(&c->conflicts);
	fill(c);
	for (by = -1; by <= 1; by = (int8_t)(by + 2)) {
		int8_t p = (int8_t)((int8_t)s + by), beyond;
		if (p < 0 || p >= (int8_t)c->sensors || !usable(c, (uint8_t)p) ||
		    c->low[p] < u16(c, (uint16_t)(row(c, (uint8_t)p) + QUIET)))
			continue;
		/* It was passed if the one beyond it was on a short while ago. With none
		 * beyond it, somebody may have come from the floor. */
		beyond = next_usable(c, p, by);
		if (beyond < 0)
			ends |= bit((uint8_t)p);
		else if (c->low[beyond] <= 2ul * ticks(c, ORDER))
			passed |= bit((uint8_t)p);
	}
	c->silent |= passed ? passed : ends;
}

/* meet says whether somebody may be in the sight of two sensors, or go from that
 * of one straight into that of the other. */
static uint8_t meet(const sc_core *c, uint8_t a, uint8_t b)
{
	uint16_t x = (uint16_t)(row(c, a) + MAY), y = (uint16_t)(row(c, b) + MAY);
	return u8(c, x) <= u8(c, (uint16_t)(y + 1)) + 1 && u8(c, y) <= u8(c, (uint16_t)(x + 1)) + 1;
}

/* before returns the nearest working sensor from s in a direction if it was on a
 * short while ago, or -1. Those that were not may be passed over when somebody
 * may come into the sight of s straight from that of one beyond: sensors glimpse
 * farther than they are sure of, and the upper of two may be the first to see
 * somebody who goes up. */
static int8_t before(const sc_core *c, uint8_t s, int8_t by, uint8_t over)
{
	uint16_t within = ticks(c, ORDER);
	uint8_t first = 1;
	int8_t p = next_usable(c, (int8_t)s, by);
	while (p >= 0 && (first || (over && meet(c, s, (uint8_t)p)))) {
		if (c->low[p] <= within)
			return p;
		first = 0;
		p = next_usable(c, p, by);
	}
	return -1;
}

/* hand_on ends the windows of the sensors from s in a direction whose walker s
 * has seen. One of which s may see somebody on the first step of its zone keeps
 * its window: the walker may still be there, where that of s does not reach. */
static void hand_on(sc_core *c, uint8_t s, int8_t by)
{
	uint16_t may = (uint16_t)(row(c, s) + MAY);
	uint8_t first = 1;
	int8_t p = next_usable(c, (int8_t)s, by);
	while (p >= 0 && (first || meet(c, s, (uint8_t)p))) {
		uint16_t of = row(c, (uint8_t)p), zone = (uint16_t)(of + SURE);
		uint8_t passed;
		if (u8(c, (uint16_t)(zone + 1)) < u8(c, zone))
			zone = (uint16_t)(of + MAY);
		if (by < 0) /* by somebody who goes up */
			passed = u8(c, may) > u8(c, zone);
		else
			passed = u8(c, (uint16_t)(may + 1)) < u8(c, (uint16_t)(zone + 1));
		if (passed) {
			c->keep[p] = 0;
			if (c->on & bit((uint8_t)p))
				c->trail[p] = u16(c, (uint16_t)(of + TRAIL));
		}
		first = 0;
		p = next_usable(c, p, by);
	}
}

/* order looks at the sensors that have just come on: from where somebody came,
 * whether they run; and, when a moment has passed, whether anybody could be there
 * at all. */
static void order(sc_core *c)
{
	uint8_t s;
	for (s = 0; s < c->sensors; s++) {
		int8_t below, above;
		uint8_t up, down;
		if ((c->rose & bit(s)) == 0 || !usable(c, s))
			continue;
		c->asked[s] = ticks(c, LATE);
		below = before(c, s, -1, 0);
		above = before(c, s, 1, 0);
		if (below < 0 && above < 0) {
			below = before(c, s, -1, 1);
			above = before(c, s, 1, 1);
		}
		up = below >= 0;
		down = above >= 0;
		if (up && down) { /* the farther of the two may have seen first who now comes to this one */
			up = c->came[above] == CAME_BELOW && c->came[below] != CAME_ABOVE;
			down = c->came[below] == CAME_ABOVE && c->came[above] != CAME_BELOW;
		}
		c->trail[s] = 0;
		if (up) {
			c->came[s] = CAME_BELOW;
			hand_on(c, s, -1);
			if (below == (int8_t)s - 1 && c->since[below] < u16(c, (uint16_t)(row(c, s) + RUN_UP)))
				c->run = ticks(c, RUN);
		} else if (down) {
			c->came[s] = CAME_ABOVE;
			hand_on(c, s, 1);
			if (above == (int8_t)s + 1 && c->since[above] < u16(c, (uint16_t)(row(c, s) + RUN_DOWN)))
				c->run = ticks(c, RUN);
		} else {
			c->came[s] = CAME_UNKNOWN;
		}
	}
	for (s = 0; s < c->sensors; s++) {
		uint8_t on = (c->on & bit(s)) != 0;
		if (c->asked[s] > 0) {
			c->asked[s]--;
			if (possible(c, s))
				c->asked[s] = 0;
			else if (c->asked[s] == 0)
				conflict(c, s);
		}
		if (!on) {
			c->trail[s] = 0;
		} else if (c->trail[s] > 0) {
			c->trail[s]--;
			if (c->trail[s] == 0)
				c->came[s] = CAME_UNKNOWN; /* somebody else is still there, or they came back */
		}
		if (!usable(c, s))
			c->keep[s] = 0;
		else if (on && c->trail[s] == 0)
			c->keep[s] = ticks(c, KEEP);
		else if (!on && c->keep[s] > 0)
			c->keep[s]--;
	}
}

/* evidence adds the positions where sensors that are on are sure of somebody, once
 * it is known that somebody could be there. By the set somebody is there already;
 * this is for the case that a sensor missed them. */
static void evidence(sc_core *c)
{
	uint8_t s, k;
	for (s = 0; s < c->sensors; s++) {
		uint8_t last;
		if ((c->on & bit(s)) == 0 || !usable(c, s) || c->asked[s] > 0)
			continue;
		k = u8(c, (uint16_t)(row(c, s) + SURE));
		last = u8(c, (uint16_t)(row(c, s) + SURE + 1));
		if (last < k) {
			k = u8(c, (uint16_t)(row(c, s) + MAY));
			last = u8(c, (uint16_t)(row(c, s) + MAY + 1));
		}
		if (k < 1)
			k = 1;
		for (; k < c->bars && k <= last; k++)
			c->age[k] = c->dwell;
	}
}

/* raise lifts the bars from low to high to a level at least. */
static void raise_to(sc_core *c, int16_t low, int16_t high, uint8_t level)
{
	int16_t i;
	if (low < 0)
		low = 0;
	if (high > (int16_t)c->bars - 1)
		high = (int16_t)(c->bars - 1);
	for (i = low; i <= high; i++)
		if (c->target[i] < level)
			c->target[i] = level;
}

/* entry lights the first steps of an end, and the other end dimly. Of somebody
 * who may only pass through the hall it lights them dimly. */
static void entry(sc_core *c, uint8_t s)
{
	uint16_t at = row(c, s);
	int16_t n = c->bars, first = u8(c, AT_SMALL + 2), far = u8(c, AT_SMALL + 3);
	int16_t sure0 = u8(c, (uint16_t)(at + SURE)), sure1 = u8(c, (uint16_t)(at + SURE + 1));
	uint8_t end = u8(c, (uint16_t)(at + END)), level = c->full;
	if (c->flags & TWO_TRIGGERS) {
		int8_t by;
		level = c->dim;
		for (by = -1; by <= 1; by = (int8_t)(by + 2)) {
			int8_t p = next_usable(c, (int8_t)s, by);
			if (p >= 0 && c->low[p] <= ticks(c, HALL))
				level = c->full;
		}
	}
	if (level < c->full)
		far = 0; /* who stays in the hall needs no far end */
	if (end & END_BOTTOM) {
		int16_t high = (int16_t)(first - 1);
		if (sure1 >= sure0 && sure1 > high)
			high = sure1;
		raise_to(c, 0, high, level);
		raise_to(c, (int16_t)(n - far), (int16_t)(n - 1), c->dim);
	}
	if (end & END_TOP) {
		int16_t low = (int16_t)(n - first);
		if (sure1 >= sure0 && sure0 < low)
			low = sure0;
		raise_to(c, low, (int16_t)(n - 1), level);
		raise_to(c, 0, (int16_t)(far - 1), c->dim);
	}
}

/* walkers sets the bars for those who walk: dim wherever somebody may be, and
 * the windows round the last movements at full. */
static void walkers(sc_core *c, uint8_t trusted)
{
	uint8_t s, k, n = c->bars;
	if (c->all > 0 || c->run > 0 || !trusted || next_usable(c, -1, 1) < 0) {
		for (k = 0; k < n; k++)
			c->target[k] = c->full;
		return;
	}
	for (k = 1; k < n; k++)
		if (c->age[k] > 0)
			raise_to(c, (int16_t)((int16_t)k - c->reach), (int16_t)(k + c->reach), c->dim);
	for (s = 0; s < c->sensors; s++) {
		uint16_t at = row(c, s);
		uint8_t low, high, w = (uint8_t)(WINDOW + 2u * c->came[s]);
		int8_t p;
		if (c->keep[s] == 0 || !usable(c, s))
			continue;
		if (c->came[s] == CAME_UNKNOWN && u8(c, (uint16_t)(at + END)) != 0) {
			entry(c, s);
			continue;
		}
		low = u8(c, (uint16_t)(at + w));
		high = u8(c, (uint16_t)(at + w + 1u));
		/* A gap left by sensors that are left out is bridged. */
		for (p = (int8_t)(s - 1); p >= 0 && !usable(c, (uint8_t)p); p--) {
			uint8_t v = u8(c, (uint16_t)(row(c, (uint8_t)p) + w));
			if (v < low)
				low = v;
		}
		for (p = (int8_t)(s + 1); p < (int8_t)c->sensors && !usable(c, (uint8_t)p); p++) {
			uint8_t v = u8(c, (uint16_t)(row(c, (uint8_t)p) + w + 1u));
			if (v > high)
				high = v;
		}
		raise_to(c, low, high, c->full);
	}
}

/* fade moves a bar towards its target. What is to be lit is dim at once: a slow
 * start costs sure feet. */
static void fade(sc_core *c, uint8_t i, uint16_t rise, uint16_t fall)
{
	uint16_t level = c->level[i], to = (uint16_t)((uint16_t)c->target[i] << 8), dim = (uint16_t)((uint16_t)c->dim << 8);
	if (level < to) {
		if (c->target[i] >= c->dim && level < dim)
			level = dim;
		if (to - level <= rise)
			level = to;
		else
			level = (uint16_t)(level + rise);
	} else if (level - to <= fall) {
		level = to;
	} else {
		level = (uint16_t)(level - fall);
	}
	c->level[i] = level;
}

/* turn returns which of a scene's colours a bar shows now. */
static uint8_t turn(const sc_core *c, uint16_t scene, uint8_t bar)
{
	uint32_t n = c->bars, colours = u8(c, (uint16_t)(scene + COLOURS)), at = bar;
	uint32_t period = u32(c, (uint16_t)(scene + PERIOD));
	if (period > 0 && u8(c, (uint16_t)(scene + KIND)) == SCENE_SEASONAL) {
		uint8_t pattern = u8(c, (uint16_t)(scene + PATTERN));
		if (pattern == ALTERNATE)
			at += c->phase * colours / period;
		else if (pattern == CHASE)
			at = (at + n - c->phase * n / period) % n;
	}
	return (uint8_t)(at % colours);
}

/* animated returns the brightness of a bar on which nobody may be. */
static uint8_t animated(const sc_core *c, uint16_t scene, uint8_t bar)
{
	uint8_t index = u8(c, (uint16_t)(scene + INDEX));
	uint32_t period = u32(c, (uint16_t)(scene + PERIOD)), at, wave;
	if (u8(c, (uint16_t)(scene + PATTERN)) != TWINKLE || period == 0)
		return index;
	at = (c->phase * 256u / period + (uint32_t)bar * 97u) & 255u;
	wave = at > 127u ? 255u - at : at;
	return (uint8_t)((uint32_t)index * (128u + wave) / 255u);
}

static uint8_t share(uint8_t channel, uint8_t level)
{
	return (uint8_t)(((uint32_t)channel * level + 254u) / 255u);
}

/* light sets every bar: what it should show, how far the fade has come, and what
 * the supply can carry. */
static void light(sc_core *c, uint8_t switches, uint8_t trusted, sc_show show, void *to)
{
	uint8_t i, n = c->bars, more = 0, clip, dark;
	uint16_t at = scene_row(c), rise = ticks(c, RISE), fall = ticks(c, FALL);
	uint8_t kind = u8(c, (uint16_t)(at + KIND)), index = u8(c, (uint16_t)(at + INDEX));
	uint8_t enough = (switches & SC_DAYLIGHT) != 0 && (c->flags & HAS_DAYLIGHT) != 0;
	for (i = 0; i < n; i++)
		c->target[i] = 0;
	if (kind == SCENE_WALK || kind == SCENE_NIGHT || kind == SCENE_SEASONAL)
		if (!enough || (switches & SC_LOST) != 0)
			walkers(c, trusted);
	if (c->all > 0)
		c->all--;
	if (c->run > 0)
		c->run--;
	dark = enough && kind != SCENE_STEADY;
	for (i = 0; i < n; i++) {
		uint8_t base = c->target[i] == 0;
		c->mark[i] = base;
		if (kind == SCENE_OFF || dark) {
			/* as it is */
		} else if (kind == SCENE_STEADY) {
			c->target[i] = index;
		} else if (kind == SCENE_NIGHT) {
			if (c->target[i] < index)
				c->target[i] = index;
		} else if (kind == SCENE_SEASONAL && base) {
			c->target[i] = animated(c, at, i);
		}
		fade(c, i, rise, fall);
		if (c->level[i] > (uint16_t)((uint16_t)c->dim << 8))
			more++;
	}
	clip = u8(c, (uint16_t)(AT_CLIP + more));
	for (i = 0; i < n; i++) {
		uint8_t k = (uint8_t)(c->level[i] >> 8), level;
		uint16_t colour = AT_WALK;
		if (k > clip)
			k = clip;
		if (c->mark[i] && kind != SCENE_WALK && kind != SCENE_OFF)
			colour = (uint16_t)(at + COLOUR + 4u * turn(c, at, i));
		level = u8(c, (uint16_t)(AT_GAMMA + k));
		show(to, i, share(u8(c, colour), level), share(u8(c, (uint16_t)(colour + 1)), level),
		     share(u8(c, (uint16_t)(colour + 2)), level), share(u8(c, (uint16_t)(colour + 3)), level));
	}
}

/* intact says whether the tables are whole: CRC-16, polynomial 0x1021, begun
 * with 0xFFFF. */
static uint8_t intact(const uint8_t *tables, uint16_t size)
{
	uint16_t i, crc = 0xFFFFu, want;
	for (i = 0; i + 2u < size; i++) {
		uint8_t k;
		crc ^= (uint16_t)((uint16_t)RW_READ(tables + i) << 8);
		for (k = 0; k < 8; k++)
			crc = (uint16_t)((crc & 0x8000u) ? (uint16_t)(crc << 1) ^ 0x1021u : (uint16_t)(crc << 1));
	}
	want = (uint16_t)(RW_READ(tables + size - 2) | (uint16_t)RW_READ(tables + size - 1) << 8);
	return crc == want;
}

uint8_t sc_start(sc_core *c, const uint8_t *tables, uint16_t size)
{
	memset(c, 0, sizeof *c);
	if (size < AT_CLIP + 2u || RW_READ(tables) != 0x52 || RW_READ(tables + 1) != 1 || !intact(tables, size))
		return 0;
	c->bars = RW_READ(tables + AT_COUNTS);
	c->sensors = RW_READ(tables + AT_COUNTS + 1);
	c->scenes = RW_READ(tables + AT_COUNTS + 2);
	c->at_sensors = (uint16_t)(AT_CLIP + c->bars + 1u);
	c->at_scenes = (uint16_t)(c->at_sensors + SENSOR_BYTES * c->sensors);
	if (c->bars < 2 || c->bars > RW_MAX_BARS || c->sensors > RW_MAX_SENSORS || c->scenes < 1 || c->scenes > MAX_SCENES ||
	    size != c->at_scenes + SCENE_BYTES * c->scenes + 2u)
		return 0;
	c->tables = tables;
	c->dwell = u8(c, AT_SMALL);
	c->reach = u8(c, AT_SMALL + 1);
	c->flags = u8(c, AT_SMALL + 4);
	c->dim = u8(c, AT_SMALL + 5);
	c->full = u8(c, AT_SMALL + 6);
	c->warm = ticks(c, WARM);
	c->last_end = 1;
	fill(c);
	return 1;
}

void sc_step(sc_core *c, uint16_t inputs, uint8_t switches, sc_show show, void *to)
{
	uint8_t trusted, i;
	if (c->tables == 0) {
		for (i = 0; i < RW_MAX_BARS; i++)
			show(to, i, 26, 26, 26, 26);
		return;
	}
	button(c, (switches & SC_BUTTON) != 0);
	trusted = read_inputs(c, inputs, (switches & SC_LOST) != 0);
	if (trusted) {
		judge(c);
		remove_gone(c);
		grow(c);
		order(c);
		evidence(c);
	} else {
		fill(c);
		c->last_end = 1;
	}
	light(c, switches, trusted, show, to);
}

uint16_t sc_tick_ms(const sc_core *c) { return c->tables == 0 ? 20 : ticks(c, TICK_MS); }
uint16_t sc_stuck(const sc_core *c) { return c->masked; }
uint16_t sc_silent(const sc_core *c) { return c->silent; }
uint16_t sc_conflicts(const sc_core *c) { return c->conflicts; }
uint8_t sc_scene(const sc_core *c) { return c->scene; }
