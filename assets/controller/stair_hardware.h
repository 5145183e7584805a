/* What the person who fits the controller writes for the board in hand. */
#ifndef STAIR_HARDWARE_H
#define STAIR_HARDWARE_H

#include <stdint.h>

/* Sets up pins and strips, and a watchdog that starts the board anew when
 * stair_alive has not been called for half a second. */
void stair_begin(void);

/* Bit i is 1 when the sensor of input i is on; see stair_pins.h. An input
 * without a sensor is pulled down, so that it reads 0. */
uint16_t stair_inputs(void);

/* SC_BUTTON, SC_DAYLIGHT and SC_LOST of stair_core.h, together. Say SC_LOST when
 * the inputs cannot be read, such as when a board for inputs does not answer. */
uint8_t stair_switches(void);

/* Puts a colour into the buffer of a bar's pixels. Bar 0 lights the bottom
 * floor. Strips of three channels leave out white: add it to the other three. */
void stair_bar(uint8_t bar, uint8_t red, uint8_t green, uint8_t blue, uint8_t white);

/* Sends the buffers to the strips. */
void stair_send(void);

/* Shows which sensors, by row of stair_tables.h, are stuck on or silent: a lamp
 * that is lit while either is not 0 is enough. */
void stair_report(uint16_t stuck, uint16_t silent);

/* Feeds the watchdog and turns the heartbeat pin over. */
void stair_alive(void);

/* Waits until so many milliseconds have passed since it last returned. */
void stair_wait(uint16_t ms);

void stair_setup(void);
void stair_loop(void);

#endif
