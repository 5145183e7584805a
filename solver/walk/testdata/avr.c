/* Runs traces on the 8-bit part and says on its serial line, for each, what
 * host.c says for H. Simulated only: the other end is simavr. */
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <stdio.h>

#include "stair_core.h"
#include "traces.h"

static sc_core core;
static uint32_t check;

static int put(char c, FILE *to)
{
	(void)to;
	while (!(UCSR0A & _BV(UDRE0)))
		;
	UDR0 = (uint8_t)c;
	return 0;
}

static FILE serial = FDEV_SETUP_STREAM(put, NULL, _FDEV_SETUP_WRITE);

static void show(void *to, uint8_t bar, uint8_t red, uint8_t green, uint8_t blue, uint8_t white)
{
	(void)to;
	(void)bar;
	check = (check ^ red) * 16777619ul;
	check = (check ^ green) * 16777619ul;
	check = (check ^ blue) * 16777619ul;
	check = (check ^ white) * 16777619ul;
}

int main(void)
{
	uint8_t t;
	uint16_t at = 0;
	UBRR0 = 0;
	UCSR0B = _BV(TXEN0);
	stdout = &serial;
	for (t = 0; t < TRACES; t++) {
		uint16_t i, steps = pgm_read_word(&trace_steps[t]);
		check = 2166136261ul;
		sc_start(&core, trace_tables + pgm_read_word(&table_at[t]), pgm_read_word(&table_size[t]));
		for (i = 0; i < steps; i++, at++) {
			uint16_t n = pgm_read_word(&trace_n[at]), in = pgm_read_word(&trace_in[at]);
			uint8_t sw = pgm_read_byte(&trace_sw[at]);
			while (n--)
				sc_step(&core, in, sw, show, 0);
		}
		printf("%08lx %04x %04x %04x %02x\n", check, sc_stuck(&core), sc_silent(&core), sc_conflicts(&core), sc_scene(&core));
	}
	cli();
	sleep_mode();
	return 0;
}
