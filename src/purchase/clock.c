/* clock.c - the limit in seconds, for those who ask for one: what is left of it passes from call to call. */
#include "buying.h"

#include <time.h>

int64_t dwi_buying_clock(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int64_t dwi_buying_left(const struct buying *buying)
{
    if (buying->deadline == 0)
        return INT64_MAX;
    const int64_t left = buying->deadline - dwi_buying_clock();
    return left > 0 ? left : 0;
}

/* A limit of 0 would mean none, so the least is 1. */
struct dw_control dwi_buying_control(const struct buying *buying)
{
    struct dw_control control = *buying->control;
    control.plans = false; /* those are of what is bought, not of what is weighed against it */
    if (buying->deadline != 0)
        control.milliseconds = dw_most(1, dwi_buying_left(buying));
    return control;
}
