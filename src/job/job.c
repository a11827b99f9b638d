/* job.c - jobs before and after completion.
 *
 * Completing works on a copy: first every given value is held to its row's limits; then the shop is completed, then each case, its
 * banks and drawers, what is not said being taken from above and at last from the tables; then what contradicts itself is looked for.
 * All faults of all steps are reported, and only a job without any is handed out.
 */
#include <drawerwright/job.h>

#include <assert.h>
#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

#include "completing.h"
#include "fields.h"

struct new_job {
    struct dw_arena *arena;
    enum dw_unit unit;
    struct dw_job *job;
};

static void new_body(void *context)
{
    struct new_job *new = context;
    struct dw_job *job = dw_arena_alloc(new->arena, 1, sizeof *job);
    dw_object_clear(&dw_job_object, job);
    job->id = "";
    job->unit = new->unit;
    job->shop.unit = new->unit;
    new->job = job;
}

struct dw_job *dw_job_new(struct dw_arena *arena, enum dw_unit unit)
{
    struct new_job new = {.arena = arena, .unit = unit};
    return dw_arena_guard(arena, new_body, &new) ? new.job : NULL;
}

/* The lists of the copy were made by dwi_copy_lists in our own arena; only the struct's type calls them constant. */
struct dw_case *dwi_own_cases(const struct dwi_completing *completing)
{
    struct dw_case *own = NULL;
    memcpy(&own, &completing->job->cases, sizeof own);
    return own;
}

struct dw_material *dwi_own_materials(const struct dwi_completing *completing)
{
    struct dw_material *own = NULL;
    memcpy(&own, &completing->job->shop.materials, sizeof own);
    return own;
}

struct dw_bank *dwi_own_banks(const struct dw_case *one)
{
    struct dw_bank *own = NULL;
    memcpy(&own, &one->banks, sizeof own);
    return own;
}

struct dw_drawer *dwi_own_drawers(const struct dw_bank *bank)
{
    struct dw_drawer *own = NULL;
    memcpy(&own, &bank->drawers, sizeof own);
    return own;
}

static void complete_extras(const struct dwi_completing *completing)
{
    struct dw_extra *extras = NULL;
    memcpy(&extras, &completing->job->extras, sizeof extras);
    for (size_t i = 0; i < completing->job->extra_count; i++) {
        dwi_fill_defaults(&dw_extra_object, &extras[i], completing->job->unit);
        if (extras[i].name == NULL)
            extras[i].name = "";
    }
}

struct call {
    const struct dw_job *job;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_job *complete;
};

static void complete_spares(struct dw_job *job)
{
    if (job->spares_percent == DW_UNSET)
        job->spares_percent = 0;
    int64_t *const kinds[] = {&job->spares.front, &job->spares.side, &job->spares.box_front, &job->spares.back, &job->spares.bottom};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (*kinds[i] == DW_UNSET)
            *kinds[i] = job->spares_percent;
}

static void complete_body(void *context)
{
    struct call *call = context;
    struct dw_job *job = dw_arena_copy(call->arena, call->job, 1, sizeof *job);
    const struct dwi_check check = {.arena = call->arena, .faults = call->faults, .unit = job->unit, .require = true};
    dwi_check_ranges(&check, &dw_job_object, call->job, "");
    dwi_copy_lists(call->arena, &dw_job_object, job);
    const struct dwi_completing completing = {.arena = call->arena, .faults = call->faults, .job = job};
    if (job->name == NULL)
        job->name = job->id;
    if (job->customer_note == NULL)
        job->customer_note = "";
    if (job->date == NULL)
        job->date = "";
    if (job->format == DW_UNSET)
        job->format = 1;
    complete_spares(job);
    dwi_complete_shop(&completing);
    dwi_complete_cases(&completing);
    complete_extras(&completing);
    dwi_check_shop(&completing);
    dwi_check_cases(&completing);
    if (job->case_count == 0 && job->extra_count == 0)
        dw_error(call->faults, DW_INPUT, "nothing-asked", "cases", "the job asks for nothing\nat least one case or one part");
    call->complete = job;
}

enum dw_status dw_job_complete(const struct dw_job *job, struct dw_arena *arena, struct dw_faults *faults,
                               const struct dw_job **complete)
{
    struct call call = {.job = job, .arena = arena, .faults = faults};
    const size_t before = faults->errors;
    *complete = NULL;
    if (!dw_arena_guard(arena, complete_body, &call))
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while the job was completed");
    if (faults->errors > before || faults->out_of_memory)
        return faults->errors > before ? faults->status : DW_SURROUNDINGS;
    *complete = call.complete;
    return DW_DONE;
}

dw_length dw_readings_least(struct dw_readings readings)
{
    dw_length least = readings.count == 0 ? DW_LENGTH_UNSET : readings.at[0];
    for (size_t i = 1; i < readings.count; i++)
        least = dw_least(least, readings.at[i]);
    return least;
}

dw_length dw_readings_most(struct dw_readings readings)
{
    dw_length most = readings.count == 0 ? DW_LENGTH_UNSET : readings.at[0];
    for (size_t i = 1; i < readings.count; i++)
        most = dw_most(most, readings.at[i]);
    return most;
}

const char *dw_material_id(const struct dw_job *job, size_t material)
{
    return material < job->shop.material_count ? job->shop.materials[material].id : "";
}

bool dw_is_batch_of(const char *id, const char *material)
{
    const size_t length = strlen(material);
    return strncmp(id, material, length) == 0 && strncmp(id + length, DW_BATCH_BETWEEN, sizeof DW_BATCH_BETWEEN - 1) == 0;
}

/* ---- the list of defaults --------------------------------------------------------------------------------- */

enum { OBJECTS_MOST = 64 };

struct listing {
    struct dw_arena *arena;
    struct dw_default *at;
    size_t count, capacity;
    const struct dw_object *listed[OBJECTS_MOST];
    size_t listed_count;
};

/* Cases and drawers have the same keys for boxes, fronts and fits; their defaults are listed once, with the cases. */
static bool is_new(struct listing *listing, const struct dw_object *object)
{
    for (size_t i = 0; i < listing->listed_count; i++)
        if (listing->listed[i] == object)
            return false;
    assert(listing->listed_count < OBJECTS_MOST);
    listing->listed[listing->listed_count++] = object;
    return true;
}

static void list_defaults(struct listing *listing, const struct dw_object *object, const char *address)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        const char *place = dw_address_key(listing->arena, address, key->key);
        if (key->inch != NULL || key->rule != NULL) {
            listing->at = dw_arena_grow(listing->arena, listing->at, listing->count, &listing->capacity, sizeof *listing->at);
            listing->at[listing->count++] = (struct dw_default){.address = place,
                                                                .inch = key->rule != NULL ? key->rule : key->inch,
                                                                .metric = key->rule != NULL ? key->rule : key->metric,
                                                                .meaning = key->meaning,
                                                                .source = key->source != NULL ? key->source : ""};
        }
        if (key->object == NULL || !is_new(listing, key->object))
            continue;
        if (key->kind == DW_KEY_OBJECT)
            list_defaults(listing, key->object, place);
        else
            list_defaults(listing, key->object, dw_arena_format(listing->arena, "%s[]", place));
    }
}

const struct dw_default *dw_job_defaults(struct dw_arena *arena, size_t *count)
{
    struct listing listing = {.arena = arena};
    list_defaults(&listing, &dw_job_object, "");
    *count = listing.count;
    return listing.at;
}
