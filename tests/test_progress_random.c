/* test_progress_random.c - random jobs, cut, spoiled, calipered, taken back and planned again in random order, with sheets in batches, openings as measured
 * and offcuts from the rack: the pieces made at last are the pieces wanted, none that is cut ever changes, and what the rack holds after the last plan is
 * posted is what lies there. And a shop that is killed at any moment: job, ledger and plan still agree. Invented data: it finds faults, it proves
 * nothing. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <signal.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <drawerwright/text.h>

#include "dice.h"
#include "progress_bench.h"

/* ---- a random job ----------------------------------------------------------------------------------------- */

struct job_text {
    struct dice *dice;
    int64_t width; /* of the opening, inches */
    struct dw_text text;
};

/* One case of a bank of drawers with solid joints, and some parts listed by hand, from half sheets so that there are several. */
static void write_job(void *context)
{
    struct job_text *job = context;
    struct dw_text *text = &job->text;
    const int64_t drawers = dice_range(job->dice, 1, 3);
    const int64_t extras = dice_range(job->dice, 1, 3);
    dw_text_add(text, "{\"format\": 1, \"name\": \"Random\", \"units\": \"in\", " TEST_SHOP ", ");
    dw_text_addf(text,
                 "\"cases\": [{\"name\": \"Case\", \"opening\": {\"width\": %lld,"
                 " \"height\": %lld, \"depth\": 20}, \"slide\": \"side\", \"fit\": \"inset\", \"front\": {\"material\": \"ply 3/4\"},"
                 " \"box\": {\"sides\": \"ply 1/2\", \"front\": \"ply 1/2\", \"back\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"joint\": \"butt\", \"one_batch\": %s},"
                 " \"banks\": [{\"drawers\": [",
                 (long long)job->width, (long long)(drawers * 7), dice_one_in(job->dice, 2) ? "true" : "false");
    for (int64_t i = 0; i < drawers; i++)
        dw_text_addf(text, "%s{}", i == 0 ? "" : ", ");
    dw_text_add(text, "]}]}], \"parts\": [");
    for (int64_t i = 0; i < extras; i++)
        dw_text_addf(text, "%s{\"name\": \"piece %lld\", \"material\": \"ply 3/4\", \"length\": %lld, \"width\": %lld, \"count\": %lld, \"grain\": \"%s\"}",
                     i == 0 ? "" : ", ", (long long)i, (long long)dice_range(job->dice, 10, 60), (long long)dice_range(job->dice, 3, 24),
                     (long long)dice_range(job->dice, 1, 4), dice_one_in(job->dice, 2) ? "along" : "free");
    dw_text_add(text, "]}");
}


/* ---- what must hold --------------------------------------------------------------------------------------- */

static const struct dw_made_piece *find_cut(const struct dw_progress *progress, const char *mark)
{
    for (size_t i = 0; i < progress->cut_count; i++)
        if (strcmp(progress->cut[i].piece.mark, mark) == 0)
            return &progress->cut[i];
    return NULL;
}

/* Every piece that was cut is still cut, from the same plan and at the same size, but for the one that was spoiled. */
static void assert_frozen(const struct dw_progress *before, const struct dw_progress *after, const char *spoiled)
{
    for (size_t i = 0; i < before->cut_count; i++) {
        const struct dw_work_piece *piece = &before->cut[i].piece;
        const struct dw_made_piece *now = find_cut(after, piece->mark);
        if (spoiled != NULL && strcmp(piece->mark, spoiled) == 0) {
            assert_null(now);
            continue;
        }
        assert_non_null(now);
        assert_string_equal(now->plan, before->cut[i].plan);
        assert_int_equal(now->piece.length, piece->length);
        assert_int_equal(now->piece.width, piece->width);
        assert_int_equal(now->piece.thickness, piece->thickness);
    }
}

/* No mark is cut twice, and what is cut, with what is left, is never more than the sheets that the plans took. */
static void assert_sound(const struct dw_progress *progress, dw_area bought)
{
    dw_area area = 0;
    for (size_t i = 0; i < progress->cut_count; i++) {
        area += progress->cut[i].piece.length * progress->cut[i].piece.width;
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(progress->cut[i].piece.mark, progress->cut[k].piece.mark);
    }
    for (size_t i = 0; i < progress->left_count; i++)
        area += progress->left[i].panel.length * progress->left[i].panel.width;
    assert_true(area <= bought);
}

/* Bought, or taken out of the rack. */
static dw_area bought_by(const struct dw_plan *plan)
{
    dw_area area = 0;
    for (size_t m = 0; m < plan->material_count; m++)
        for (size_t s = 0; s < plan->materials[m].sheet_count; s++) {
            const struct dw_plan_source *source = &plan->materials[m].sources[plan->materials[m].sheets[s].source];
            area += source->owned && source->rack_id[0] != 'R' ? 0 : source->length * source->width;
        }
    return area;
}

/* ---- a shop at work --------------------------------------------------------------------------------------- */

struct shop {
    struct bench *bench;
    struct dice dice;
    const char *text;          /* of the job */
    int64_t width;             /* of its opening as drawn, inches */
    const char *batches;       /* of its 1/2 in plywood, a setting; NULL */
    const char *plan;          /* worked from */
    const struct dw_plan *file; /* as its file says it */
    dw_area bought;
    size_t wanted;             /* pieces */
};

static const struct dw_progress *look(const struct shop *shop)
{
    return bench_progress(shop->bench, shop->plan);
}

static void random_job(struct shop *shop)
{
    static const char *const batches[] = {NULL, "shop.materials[1].batches=[{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 1}]",
                                          "shop.materials[1].batches=[{\"id\": \"A\", \"thickness\": \"12.1 mm\", \"count\": 1}, {\"id\": \"B\", \"thickness\": \"15/32\","
                                          " \"count\": 1}]"};
    struct job_text job = {.dice = &shop->dice, .width = dice_range(&shop->dice, 12, 30), .text = dw_text_in(shop->bench->arena)};
    assert_true(dw_arena_guard(shop->bench->arena, write_job, &job));
    shop->text = job.text.bytes;
    shop->width = job.width;
    shop->batches = batches[dice_range(&shop->dice, 0, 2)];
}

/* The job with what was measured since: plywood, and the opening up to 3/16 narrower than drawn. */
static const struct dw_job *job_now(struct shop *shop, bool measured)
{
    static const char *const thickness[] = {NULL, "shop.materials[1].thickness=15/32", "shop.materials[0].thickness=23/32"};
    const char *settings[3];
    char opening[64];
    size_t count = 0;
    const char *calipered = thickness[dice_range(&shop->dice, 0, 2)];
    (void)snprintf(opening, sizeof opening, "cases[0].opening.width=[\"%lld\", \"%lld %lld/16\"]", (long long)shop->width, (long long)shop->width - 1,
                   (long long)dice_range(&shop->dice, 13, 15));
    if (shop->batches != NULL)
        settings[count++] = shop->batches;
    if (measured && calipered != NULL)
        settings[count++] = calipered;
    if (measured && dice_one_in(&shop->dice, 2))
        settings[count++] = opening;
    return bench_job_set(shop->bench, shop->text, settings, count);
}

/* Offcuts of the rack may be used, each time it is asked anew. */
static const struct dw_plan *plan_now(struct shop *shop, bool measured)
{
    shop->bench->use_rack = dice_one_in(&shop->dice, 2);
    return bench_plan(shop->bench, job_now(shop, measured), NULL, shop->plan);
}

static void fill_rack(struct shop *shop)
{
    static const char *const materials[] = {"ply 3/4", "ply 1/2", "ply 1/4"};
    for (int64_t i = dice_range(&shop->dice, 0, 4); i > 0; i--) {
        const struct dw_offcut offcut = {.material = materials[dice_range(&shop->dice, 0, 2)], .length = dice_range(&shop->dice, 12, 60) * DW_INCH,
                                         .width = dice_range(&shop->dice, 6, 30) * DW_INCH, .value = dice_range(&shop->dice, 100, 900), .origin = "by hand"};
        int64_t number = 0;
        assert_int_equal(dw_rack_add(shop->bench->rack, &offcut, shop->bench->faults, &number), DW_DONE);
    }
}

static const struct dw_work_panel *random_panel(struct shop *shop, const struct dw_progress *progress)
{
    return &progress->plan.panels[dice_range(&shop->dice, 0, (int64_t)progress->plan.panel_count - 1)];
}

/* Marks that cannot be are refused and change nothing. */
static void mark_something(struct shop *shop)
{
    const struct dw_progress *before = look(shop);
    const struct dw_work_panel *panel = random_panel(shop, before);
    const int64_t what = dice_range(&shop->dice, 0, 10);
    const char *spoiled = NULL;
    enum dw_status status = DW_IMPOSSIBLE;
    if (panel->name[0] == '\0')
        return;
    if (what < 4) {
        status = bench_mark(shop->bench, shop->plan, DW_MARK_CUT, panel->name, 0);
    } else if (what < 6) {
        status = bench_mark(shop->bench, shop->plan, DW_MARK_SHEET, panel->sheet, dice_range(&shop->dice, 1, 5));
    } else if (what < 8) {
        if (before->cut_count > 0 && dice_one_in(&shop->dice, 2))
            spoiled = before->cut[dice_range(&shop->dice, 0, (int64_t)before->cut_count - 1)].piece.mark;
        status = bench_mark(shop->bench, shop->plan, DW_MARK_SPOILED, spoiled == NULL ? panel->name : spoiled, 0);
        if (status == DW_DONE && spoiled == NULL && panel->use == DW_PANEL_PIECE)
            spoiled = panel->name;
    } else if (what == 10) {
        const struct dw_mark mark = {.kind = DW_MARK_MEASURED, .target = panel->sheet, .depth = dice_range(&shop->dice, 29, 32) * DW_INCH / 64};
        status = dw_progress_mark(shop->bench->rack, shop->plan, &mark, shop->bench->faults);
    } else {
        const struct dw_mark mark = {.kind = DW_MARK_DAMAGED, .target = panel->name, .edge = (int)dice_range(&shop->dice, 0, 3), .depth = DW_INCH};
        status = dw_progress_mark(shop->bench->rack, shop->plan, &mark, shop->bench->faults);
    }
    assert_true(status == DW_DONE || status == DW_IMPOSSIBLE);
    const struct dw_progress *after = look(shop);
    assert_int_equal(after->history_count, before->history_count + (status == DW_DONE ? 1 : 0));
    assert_frozen(before, after, status == DW_DONE ? spoiled : NULL);
    assert_sound(after, shop->bought);
    if (status == DW_DONE && dice_one_in(&shop->dice, 5)) { /* a slip of the finger */
        assert_int_equal(dw_progress_undo(shop->bench->rack, shop->plan, shop->bench->arena, shop->bench->faults, NULL), DW_DONE);
        const struct dw_progress *again = look(shop);
        assert_int_equal(again->cut_count, before->cut_count);
        assert_int_equal(again->left_count, before->left_count);
        assert_frozen(before, again, NULL);
    }
}

/* Plans again what is left; false when nothing is. */
static bool replan(struct shop *shop)
{
    const struct dw_progress *before = look(shop);
    const struct dw_plan *plan = plan_now(shop, true);
    if (plan == NULL) {
        if (strcmp(bench_code(shop->bench), "nothing-left") != 0)
            print_faults(shop->bench->faults);
        assert_string_equal(bench_code(shop->bench), "nothing-left");
        assert_int_equal(before->cut_count, shop->wanted);
        return false;
    }
    size_t pieces = 0;
    for (size_t p = 0; p < plan->part_count; p++)
        for (size_t i = 0; i < plan->parts[p].count; i++, pieces++)
            assert_null(find_cut(before, plan->parts[p].pieces[i]));
    assert_int_equal(pieces + before->cut_count, shop->wanted);
    assert_int_equal(bench_enter(shop->bench, plan), DW_DONE);
    shop->bought += bought_by(plan);
    shop->plan = plan->plan_id;
    shop->file = plan;
    const struct dw_progress *after = look(shop);
    assert_frozen(before, after, NULL);
    assert_sound(after, shop->bought);
    return true;
}

/* ---- and the rack at last --------------------------------------------------------------------------------- */

struct stock {
    size_t count;
    dw_area area;
};

static struct stock stock_of(struct bench *bench)
{
    struct dw_offcuts offcuts;
    struct stock stock = {0};
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    for (; stock.count < offcuts.count; stock.count++)
        stock.area += offcuts.at[stock.count].length * offcuts.at[stock.count].width;
    return stock;
}

static dw_area area_of(struct bench *bench, const char *id)
{
    struct dw_offcuts offcuts;
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    for (size_t i = 0; i < offcuts.count; i++)
        if (strcmp(offcuts.at[i].id, id) == 0)
            return offcuts.at[i].length * offcuts.at[i].width;
    fail_msg("the rack has no %s", id);
    return 0;
}

/* When all is cut the last plan is posted: in the rack is what was there and no plan took, and what lies on the bench without what is damaged and without
 * factory edges. Undone, the rack is as before. */
static void post(struct shop *shop)
{
    struct bench *bench = shop->bench;
    struct dw_posting posting;
    const struct stock before = stock_of(bench);
    struct stock wanted = before;
    bench_cut_all(bench, shop->plan);
    const struct dw_progress *progress = look(shop);
    for (size_t i = 0; i < progress->racked_count; i++) {
        wanted.count--;
        wanted.area -= area_of(bench, progress->racked[i]);
    }
    for (size_t i = 0; i < progress->left_count; i++) {
        const struct dw_work_panel *panel = &progress->left[i].panel;
        const dw_length length = panel->length - panel->trim[0] - panel->trim[1];
        const dw_length width = panel->width - panel->trim[2] - panel->trim[3];
        wanted.count += length > 0 && width > 0 ? 1 : 0;
        wanted.area += length > 0 && width > 0 ? length * width : 0;
    }
    assert_int_equal(dw_run_posting_known(bench->rack, shop->file, bench->arena, bench->faults, &posting), DW_DONE);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_int_equal(stock_of(bench).count, wanted.count);
    assert_int_equal(stock_of(bench).area, wanted.area);
    assert_int_equal(dw_rack_undo(bench->rack, shop->plan, bench->faults), DW_DONE);
    assert_int_equal(stock_of(bench).count, before.count);
    assert_int_equal(stock_of(bench).area, before.area);
}

static void make_a_job(struct bench *bench, uint64_t seed)
{
    struct shop shop = {.bench = bench, .dice = {seed}};
    random_job(&shop);
    fill_rack(&shop);
    const struct dw_plan *plan = plan_now(&shop, false);
    assert_non_null(plan);
    shop.file = plan;
    for (size_t p = 0; p < plan->part_count; p++)
        shop.wanted += plan->parts[p].count;
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    shop.plan = plan->plan_id;
    shop.bought = bought_by(plan);
    for (int64_t steps = dice_range(&shop.dice, 5, 25); steps > 0; steps--) {
        mark_something(&shop);
        if (dice_one_in(&shop.dice, 8) && !replan(&shop))
            break;
    }
    int rounds = 0;
    do {
        const struct dw_progress *progress = look(&shop);
        for (size_t i = 0; i < progress->plan.panel_count; i++)
            if (progress->plan.panels[i].use == DW_PANEL_PIECE)
                (void)bench_mark(bench, shop.plan, DW_MARK_CUT, progress->plan.panels[i].name, 0);
        assert_true(++rounds < 4); /* what is left can always be cut from one plan */
    } while (replan(&shop));
    post(&shop);
}

static void test_what_is_wanted_is_made_at_last(void **state)
{
    (void)state;
    const uint64_t rounds = getenv("DW_LONG") != NULL ? 300 : 8;
    for (uint64_t seed = 1; seed <= rounds; seed++) {
        void *bench = NULL;
        assert_int_equal(bench_set_up(&bench), 0);
        make_a_job(bench, seed);
        assert_int_equal(bench_tear_down(&bench), 0);
    }
}

/* ---- killed ----------------------------------------------------------------------------------------------- */

static const char kill_job[] =
    "{\"format\": 1, \"name\": \"Six\", \"units\": \"in\", " TEST_SHOP ", \"parts\": ["
    "{\"name\": \"side\", \"material\": \"ply 1/2\", \"length\": 16, \"width\": \"4 1/2\", \"count\": 6, \"grain\": \"along\"}]}";

static void plan_path(const struct bench *bench, char *path, size_t size)
{
    (void)snprintf(path, size, "%s/plan.json", bench->folder);
}

static void write_plan_file(struct bench *bench)
{
    char path[128];
    struct text_call call = {.purchase = bench->run.purchase, .faults = bench->faults, .text = dw_text_in(bench->arena)};
    plan_path(bench, path, sizeof path);
    if (!dw_arena_guard(bench->arena, write_plan_text, &call) ||
        dw_file_write(path, call.text.bytes, call.text.length, bench->faults) != DW_DONE)
        _exit(1);
}

static const struct dw_plan *read_plan_file(struct bench *bench)
{
    char path[128];
    const struct dw_plan *plan = NULL;
    plan_path(bench, path, sizeof path);
    assert_int_equal(dw_plan_read_file(path, bench->arena, bench->faults, &plan), DW_DONE);
    return plan;
}

/* The plan that nobody replaced, from the first one on. */
static const char *current_plan(struct bench *bench, const char *mark)
{
    const char *next = bench_progress(bench, mark)->replaced_by;
    return next[0] == '\0' ? mark : current_plan(bench, next);
}

/* As `replan` does it: mark, plan, write the file, enter; over and over. */
_Noreturn static void keep_replanning(struct bench *bench, const char *first)
{
    const struct dw_job *job = bench_job(bench, kill_job, NULL);
    const char *mark = current_plan(bench, first);
    for (;;) {
        const struct dw_progress *progress = bench_progress(bench, mark);
        const char *piece = progress->plan.pieces[0].mark;
        if (progress->states[0] != DW_PIECE_SPOILED && bench_mark(bench, mark, DW_MARK_SPOILED, piece, 0) != DW_DONE)
            _exit(1);
        const struct dw_plan *plan = bench_plan(bench, job, NULL, mark);
        if (plan == NULL)
            _exit(1);
        write_plan_file(bench);
        if (bench_enter(bench, plan) != DW_DONE)
            _exit(1);
        mark = plan->plan_id;
    }
}

/* The file is whole. What it holds is the plan worked from, or one that can be entered to replace it, or (killed between two marks) the one before
 * a mark that is known: never anything else. All pieces are wanted once. */
static void assert_agree(struct bench *bench, const char *first)
{
    const struct dw_plan *plan = read_plan_file(bench);
    const char *current = current_plan(bench, first);
    if (strcmp(plan->plan_id, current) != 0) {
        assert_string_equal(plan->follows, current);
        assert_int_equal(bench_enter(bench, plan), DW_DONE);
        current = current_plan(bench, first);
    }
    assert_string_equal(plan->plan_id, current);
    const struct dw_progress *progress = bench_progress(bench, current);
    size_t wanted = progress->cut_count;
    for (size_t i = 0; i < progress->plan.piece_count; i++)
        wanted += progress->states[i] == DW_PIECE_CUT ? 0 : 1;
    assert_int_equal(wanted, 6);
}

static void test_killed_during_a_replan(void **state)
{
    struct bench *bench = *state;
    const int rounds = getenv("DW_LONG") != NULL ? 100 : 8;
    const struct dw_plan *plan = bench_plan(bench, bench_job(bench, kill_job, NULL), NULL, NULL);
    assert_non_null(plan);
    write_plan_file(bench);
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    for (int round = 0; round < rounds; round++) {
        dw_rack_close(bench->rack);
        bench->rack = NULL;
        const pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            if (dw_rack_open(bench->path, bench->faults, &bench->rack) != DW_DONE)
                _exit(1);
            keep_replanning(bench, plan->plan_id);
        }
        const struct timespec pause = {.tv_nsec = (round * 7919 % 89 + 5) * 1000000L};
        (void)nanosleep(&pause, NULL);
        (void)kill(child, SIGKILL);
        int how = 0;
        assert_int_equal(waitpid(child, &how, 0), child);
        assert_true(WIFSIGNALED(how));
        assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_DONE);
        assert_agree(bench, plan->plan_id);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_wanted_is_made_at_last),
        cmocka_unit_test_setup_teardown(test_killed_during_a_replan, bench_set_up, bench_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
