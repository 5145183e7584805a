/* The rules of the stair's light bars: portable C99, no allocation, no floating
 * point, no hardware. It is the same, step by step, as the program's own rules
 * (package solver/walk), and is tested against them.
 *
 * Call sc_start once, then sc_step once a tick (sc_tick_ms says how often). It
 * calls show for every bar, the lowest first: bar 0 lights the bottom floor and
 * bar k the k-th tread. Send the colours to the strips afterwards.
 *
 * The state takes no more memory than stair_limits.h says that your stair needs.
 */
#ifndef STAIR_CORE_H
#define STAIR_CORE_H

#include <stdint.h>

#include "stair_limits.h"

/* Where the tables lie. On 8-bit parts they stay in flash. */
#ifndef RW_STORE
#if defined(__AVR__)
#include <avr/pgmspace.h>
#define RW_STORE PROGMEM
#define RW_READ(p) pgm_read_byte(p)
#else
#define RW_STORE
#define RW_READ(p) (*(p))
#endif
#endif

/* Switches of sc_step. */
#define SC_BUTTON 1u   /* the button is down */
#define SC_DAYLIGHT 2u /* there is enough daylight */
#define SC_LOST 4u     /* the sensors' inputs cannot be trusted: the whole flight is lit */

/* The state. Nothing in it is for others to read; see the functions below. */
typedef struct {
	const uint8_t *tables; /* 0: damaged, the whole flight is lit */
	uint8_t bars, sensors, scenes;
	uint8_t dwell, reach, dim, full, flags;
	uint16_t at_sensors, at_scenes; /* places in the tables */

	uint8_t age[RW_MAX_BARS + 1];
	uint8_t mark[RW_MAX_BARS + 1];
	uint8_t target[RW_MAX_BARS];
	uint16_t level[RW_MAX_BARS];

	uint16_t on, rose, masked, silent;
	uint16_t low[RW_MAX_SENSORS], high[RW_MAX_SENSORS], since[RW_MAX_SENSORS];
	uint16_t keep[RW_MAX_SENSORS], trail[RW_MAX_SENSORS];
	uint16_t asked[RW_MAX_SENSORS];
	uint8_t came[RW_MAX_SENSORS];

	uint16_t warm, all, run, conflicts;
	uint8_t last_end, scene, pressed;
	uint32_t phase, shown;
} sc_core;

/* sc_show sets the colour of a bar, each channel 0 to 255. */
typedef void (*sc_show)(void *to, uint8_t bar, uint8_t red, uint8_t green, uint8_t blue, uint8_t white);

/* sc_start puts the state to power-on. It returns 0 when the tables are damaged
 * or do not fit: sc_step then lights every bar at a tenth, and reads nothing. */
uint8_t sc_start(sc_core *c, const uint8_t *tables, uint16_t size);

/* sc_step takes the rules one tick on. Bit i of inputs is input i, 1 when its
 * sensor is on. */
void sc_step(sc_core *c, uint16_t inputs, uint8_t switches, sc_show show, void *to);

uint16_t sc_tick_ms(const sc_core *c);

/* What to report: sensors on for too long, and sensors that were passed without
 * a word (by bit of their row in the tables); how often one came on where nobody
 * could be; and which scene is on. */
uint16_t sc_stuck(const sc_core *c);
uint16_t sc_silent(const sc_core *c);
uint16_t sc_conflicts(const sc_core *c);
uint8_t sc_scene(const sc_core *c);

#endif
