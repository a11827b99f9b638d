/* random.h - a small generator of random numbers in integers, the same on every machine.
 *
 * splitmix64: G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
 */
#ifndef DWI_CUTTING_RANDOM_H
#define DWI_CUTTING_RANDOM_H

#include <stdint.h>

struct random {
    uint64_t state;
};

static inline uint64_t dwi_random_next(struct random *random)
{
    uint64_t z = random->state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

/* Evenly from 0 to bound - 1 (within 2^-32 * bound); bound from 1 to 2^31. */
static inline int dwi_random_below(struct random *random, int bound)
{
    return (int)(((dwi_random_next(random) >> 32) * (uint64_t)bound) >> 32);
}

/* Evenly from low to high, both included. */
static inline int dwi_random_between(struct random *random, int low, int high)
{
    return low + dwi_random_below(random, high - low + 1);
}

#endif
