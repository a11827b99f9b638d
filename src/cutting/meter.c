/* meter.c - work counted in ticks; the clock and cancel looked at once in a while. */
#include "meter.h"

#include <time.h>

enum { TICKS_BETWEEN_LOOKS = 2000000 }; /* about 2 ms */

static int64_t milliseconds_now(void)
{
    struct timespec now;
    if (clock_gettime(CLOCK_MONOTONIC, &now) != 0)
        return 0;
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

void dwi_meter_start(struct meter *meter, int64_t units, const struct dw_control *control)
{
    const int64_t most = INT64_MAX / 4 / DWI_TICKS_A_UNIT; /* room for narrowing sums */
    *meter = (struct meter){
        .limit = (units < most ? units : most) * DWI_TICKS_A_UNIT,
        .control = control,
        .stop = DW_STOP_WORK,
    };
    if (control != NULL && control->milliseconds > 0)
        meter->deadline = milliseconds_now() + control->milliseconds;
}

static void look(struct meter *meter)
{
    meter->look_at = meter->ticks + TICKS_BETWEEN_LOOKS;
    const struct dw_control *control = meter->control;
    if (control != NULL && control->cancel != NULL && atomic_load(control->cancel)) {
        meter->halted = true;
        meter->stop = DW_STOP_CANCEL;
    } else if (meter->deadline != 0 && milliseconds_now() >= meter->deadline) {
        meter->halted = true;
        meter->stop = DW_STOP_CLOCK;
    }
}

bool dwi_meter_spend(struct meter *meter, int64_t ticks)
{
    meter->ticks += ticks;
    if (meter->ticks >= meter->look_at && !meter->halted)
        look(meter);
    return dwi_meter_open(meter);
}

int64_t dwi_meter_narrow(struct meter *meter, int64_t ticks)
{
    const int64_t before = meter->limit;
    if (meter->limit - meter->ticks > ticks)
        meter->limit = meter->ticks + ticks;
    return before;
}

void dwi_meter_part(struct meter *part, const struct meter *whole, int64_t ticks)
{
    const int64_t left = whole->limit - whole->ticks;
    *part = *whole;
    part->ticks = 0;
    part->look_at = 0;
    part->limit = ticks < left ? ticks : left;
    if (part->limit < 0)
        part->limit = 0;
}

void dwi_meter_join(struct meter *whole, const struct meter *part)
{
    whole->ticks += part->ticks;
    if (part->halted && !whole->halted) {
        whole->halted = true;
        whole->stop = part->stop;
    }
}

void dwi_meter_hold_back(struct meter *meter)
{
    meter->held_ticks = meter->limit / 8;
    if (meter->deadline != 0) {
        /* also in ticks, or a last phase with much work and little time would never end before the clock */
        const int64_t timed = meter->control->milliseconds * (1000 * DWI_TICKS_A_UNIT / 8);
        if (timed < meter->held_ticks)
            meter->held_ticks = timed;
        meter->held_milliseconds = meter->control->milliseconds / 8;
        meter->deadline -= meter->held_milliseconds;
    }
    meter->limit -= meter->held_ticks;
}

void dwi_meter_release(struct meter *meter)
{
    meter->limit += meter->held_ticks;
    meter->held_ticks = 0;
    if (meter->deadline == 0)
        return;
    meter->deadline += meter->held_milliseconds;
    meter->held_milliseconds = 0;
    if (meter->halted && meter->stop == DW_STOP_CLOCK)
        meter->halted = false;
}
