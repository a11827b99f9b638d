/* dice.h - random numbers for tests: the same on every machine. splitmix64 (Steele, Lea & Flood, "Fast splittable
 * pseudorandom number generators", OOPSLA 2014). */
#ifndef DW_TESTS_DICE_H
#define DW_TESTS_DICE_H

#include <stdbool.h>
#include <stdint.h>

struct dice {
    uint64_t state;
};

static inline uint64_t dice_next(struct dice *dice)
{
    uint64_t z = dice->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

/* A number from low to high, both included. */
static inline int64_t dice_range(struct dice *dice, int64_t low, int64_t high)
{
    return low + (int64_t)(dice_next(dice) % (uint64_t)(high - low + 1));
}

/* True once in n times. */
static inline bool dice_one_in(struct dice *dice, int64_t n)
{
    return dice_range(dice, 1, n) == 1;
}

#endif
