/* The largest stair that the state has room for. Beside the tables of a stair
 * lies one that fits it. */
#ifndef STAIR_LIMITS_H
#define STAIR_LIMITS_H

#ifndef RW_MAX_BARS
#define RW_MAX_BARS 64
#endif
#ifndef RW_MAX_SENSORS
#define RW_MAX_SENSORS 16
#endif

#endif
