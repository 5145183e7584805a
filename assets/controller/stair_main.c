/* The loop of the controller. What belongs to your board is in the functions of
 * stair_hardware.h, which you write: nothing here knows a pin. */
#include "stair_core.h"
#include "stair_hardware.h"
#include "stair_tables.h"

static sc_core core;

static void show(void *to, uint8_t bar, uint8_t red, uint8_t green, uint8_t blue, uint8_t white)
{
	(void)to;
	stair_bar(bar, red, green, blue, white);
}

/* stair_setup begins anew; call it once at power-on. */
void stair_setup(void)
{
	stair_begin();
	if (!sc_start(&core, stair_tables, RW_TABLE_BYTES))
		stair_report(0xffffu, 0xffffu); /* damaged: the whole flight is lit */
}

/* stair_loop takes one tick; call it again and again. */
void stair_loop(void)
{
	sc_step(&core, stair_inputs(), stair_switches(), show, 0);
	stair_send();
	stair_report(sc_stuck(&core), sc_silent(&core));
	stair_alive();
	stair_wait(sc_tick_ms(&core));
}
