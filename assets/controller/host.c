/* Runs the stair's rules on an ordinary computer. It reads from standard input
 *
 *	T BYTES      tables, as hexadecimal digits: begin anew with them
 *	P            begin anew with the stair's own tables (stair_tables.h)
 *	S N IN SW    take N ticks with these inputs and switches, in hexadecimal
 *	Q N IN SW    the same, without a word: only the check below grows
 *	H            print a check of all that was shown since the last T or P
 *
 * and prints, for S, a line a tick: eight digits a bar for red, green, blue and
 * white. Try: printf 'P\nS 3 0 0\nS 5 1 0\n' | ./host
 */
#include "stair_core.h"

#include <stdio.h>
#include <string.h>

#ifdef RW_HAVE_TABLES
#include "stair_tables.h"
#endif

#define MOST_TABLES 2048

static sc_core core;
static uint8_t tables[MOST_TABLES];
static uint32_t check;
static int quiet;
static char line[2 * MOST_TABLES + 16];
static char out[RW_MAX_BARS * 8 + 2];
static size_t length;

static void add(uint8_t v) { check = (check ^ v) * 16777619u; } /* FNV-1a */

static void show(void *to, uint8_t bar, uint8_t red, uint8_t green, uint8_t blue, uint8_t white)
{
	(void)to;
	(void)bar;
	add(red);
	add(green);
	add(blue);
	add(white);
	if (!quiet) {
		sprintf(out + length, "%02x%02x%02x%02x", red, green, blue, white);
		length += 8;
	}
}

static int digit(int c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return -1;
}

static void begin(const uint8_t *from, uint16_t size)
{
	check = 2166136261u;
	if (!sc_start(&core, from, size))
		fprintf(stderr, "the tables are damaged, or too large: the whole flight is lit\n");
}

int main(void)
{
#ifdef RW_HAVE_TABLES
	begin(stair_tables, RW_TABLE_BYTES);
#else
	sc_start(&core, tables, 0); /* none as yet: the whole flight is lit */
#endif
	while (fgets(line, sizeof line, stdin)) {
		unsigned long n, i;
		unsigned in, sw;
		char kind;
		if (line[0] == 'T') {
			uint16_t size = 0;
			const char *p = line + 2;
			while (size < MOST_TABLES && strlen(p) >= 2 && digit(p[0]) >= 0 && digit(p[1]) >= 0) {
				tables[size++] = (uint8_t)(digit(p[0]) * 16 + digit(p[1]));
				p += 2;
			}
			begin(tables, size);
		} else if (line[0] == 'P') {
#ifdef RW_HAVE_TABLES
			begin(stair_tables, RW_TABLE_BYTES);
#else
			fprintf(stderr, "there are no tables in this build\n");
#endif
		} else if (sscanf(line, "%c %lu %x %x", &kind, &n, &in, &sw) == 4 && (kind == 'S' || kind == 'Q')) {
			quiet = kind == 'Q';
			for (i = 0; i < n; i++) {
				length = 0;
				sc_step(&core, (uint16_t)in, (uint8_t)sw, show, 0);
				if (!quiet) {
					out[length] = '\n';
					fwrite(out, 1, length + 1, stdout);
				}
			}
		} else if (line[0] == 'H') {
			printf("%08lx %04x %04x %04x %02x\n", (unsigned long)check, sc_stuck(&core), sc_silent(&core),
			       sc_conflicts(&core), sc_scene(&core));
			fflush(stdout);
		} else if (line[0] != '\n') {
			fprintf(stderr, "not understood: %s", line);
			return 1;
		}
	}
	return 0;
}
