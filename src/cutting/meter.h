/* meter.h - work counted, and the three ways to stop early: the work allowed, the clock, a cancel.
 *
 * Work is counted in ticks by those who do it, about one tick for a nanosecond of one core (a visited tree node is
 * 2, a step of a dynamic program 1); a thousand ticks are a unit of work.h. Decisions depend on ticks only; the clock and cancel
 * are looked at now and then and can only end the search.
 */
#ifndef DWI_CUTTING_METER_H
#define DWI_CUTTING_METER_H

#include <drawerwright/cutting.h>

enum { DWI_TICKS_A_UNIT = 1000 };

struct meter {
    int64_t ticks;    /* done */
    int64_t limit;    /* allowed, in ticks; a phase may lower it for its time and put it back */
    int64_t look_at;  /* ticks at which to look at clock and cancel next */
    int64_t deadline; /* milliseconds of the monotonic clock; 0: none */
    int64_t held_ticks, held_milliseconds; /* held back for a last phase */
    const struct dw_control *control; /* may be NULL */
    bool halted;      /* by clock or cancel: for good */
    enum dw_cut_stop stop; /* why, once halted */
};

/* Starts a meter that allows `units` of work. */
void dwi_meter_start(struct meter *meter, int64_t units, const struct dw_control *control);

/* Counts `ticks` of work. Returns true while work may go on. */
bool dwi_meter_spend(struct meter *meter, int64_t ticks);

static inline bool dwi_meter_open(const struct meter *meter)
{
    return !meter->halted && meter->ticks < meter->limit;
}

/* Allows at most `ticks` more from now on; returns the limit before, which the caller puts back at its end. */
int64_t dwi_meter_narrow(struct meter *meter, int64_t ticks);

/* A meter for a part of the work, done by itself: at most `ticks`, and never more than the whole has left. What it came to joins the whole. */
void dwi_meter_part(struct meter *part, const struct meter *whole, int64_t ticks);
void dwi_meter_join(struct meter *whole, const struct meter *part);

/* Holds back an eighth of all that is allowed, for a last phase; gives it free again (a clock that has halted the meter goes on). */
void dwi_meter_hold_back(struct meter *meter);
void dwi_meter_release(struct meter *meter);

#endif
