/* bench_main.c - dw-bench: measures the cutting room on files of instances and on drawer jobs of its own.
 *
 *     dw-bench --seconds 2 --turning no class.jsonl known.csv
 *     dw-bench --drawers 60 --sizes 4 --limit 10 --seconds 5
 *     dw-bench --growth --seconds 20
 */
#include "bench.h"

#include <stdlib.h>
#include <string.h>

#include "cutting/without.h"

static const char USAGE[] =
    "usage: dw-bench [options] [instances.jsonl | known.csv]...\n"
    "  --seconds S        stop each run by the clock        --patience short|coffee|lunch   else by work\n"
    "  --work N           units of work for each run        --turning yes|no|both           (both)\n"
    "  --stages 0|2|3     most turns (0: any)               --first-cut rip|crosscut\n"
    "  --limit N          at most N instances of a file     --match TEXT  those whose name starts so\n"
    "  --jobs N           runs side by side (1)\n"
    "  --threads N        for each run (1)                  --seed S    (1)\n"
    "  --drawers N        a job of N drawer boxes; with --limit M: M jobs, seeds S, S+1, ...\n"
    "  --without METHOD   values, ruin, holes, strips, choice, rounded, priced, counted, duals, limited or swap left out\n"
    "  --sizes 1|4        sheet sizes of such jobs (1)      --growth    jobs of 50 to 10 000 parts\n";

struct options {
    struct manner manner;
    bool with_turning, without_turning;
    bool growth;
    const char *match; /* only instances whose name starts so */
    int64_t limit;   /* 0: all */
    int64_t drawers; /* 0: none */
    int sizes;
};

/* Sums over a table. */
struct totals {
    const struct known *known;
    const struct manner *manner;
    bool turning;
    int64_t cost, lower_bound;
    int runs, proved, failed;
    int known_values, met, better;
    double seconds, seconds_to_best;
    bool in_money;
};

static void print_cost(int64_t cost, bool in_money)
{
    if (in_money)
        printf(" %11lld.%02lld", (long long)(cost / 100), (long long)(cost % 100));
    else
        printf(" %14lld", (long long)cost);
}

static void compare_known(struct totals *totals, const struct instance *instance, const struct outcome *outcome)
{
    const int64_t value = bench_known_value(totals->known, instance, totals->manner->turns, totals->manner->first_cut, totals->turning);
    if (value < 0)
        return;
    totals->known_values++;
    totals->met += outcome->sheets <= value;
    totals->better += outcome->sheets < value;
    printf("  known %lld%s", (long long)value, outcome->sheets > value ? " MISSED" : outcome->sheets < value ? " BETTER" : "");
}

static double gap_percent(int64_t cost, int64_t lower_bound)
{
    if (cost == lower_bound)
        return 0;
    return lower_bound <= 0 ? 999.99 : 100 * (double)(cost - lower_bound) / (double)lower_bound;
}

static int64_t pieces_of(const struct instance *instance)
{
    int64_t pieces = 0;
    for (size_t p = 0; p < instance->request.part_count; p++)
        pieces += instance->request.parts[p].count;
    return pieces;
}

static void report(void *context, const struct instance *instance, const struct outcome *outcome)
{
    struct totals *totals = context;
    totals->runs++;
    totals->in_money = instance->in_money;
    printf("%-28s %6zu %6lld", instance->name, instance->request.part_count, (long long)pieces_of(instance));
    if (!outcome->ran || !outcome->checked || outcome->outcome != DW_CUT_PLAN) {
        totals->failed++;
        printf("  %s\n", !outcome->ran ? "FAILED" : !outcome->checked ? "REFUSED by the checker" : "no plan");
        return;
    }
    print_cost(outcome->cost, instance->in_money);
    print_cost(outcome->lower_bound, instance->in_money);
    printf(" %7.2f %-6s %7.2f %7.2f %7.1f", gap_percent(outcome->cost, outcome->lower_bound), outcome->proved ? "proved" : "",
           outcome->seconds, outcome->seconds_to_best, outcome->megabytes);
    compare_known(totals, instance, outcome);
    printf("\n");
    totals->cost += outcome->cost;
    totals->lower_bound += outcome->lower_bound;
    totals->proved += outcome->proved;
    totals->seconds += outcome->seconds;
    totals->seconds_to_best += outcome->seconds_to_best;
}

static void print_totals(const struct totals *totals)
{
    printf("%-28s %6s %6d", "total", "", totals->runs);
    print_cost(totals->cost, totals->in_money);
    print_cost(totals->lower_bound, totals->in_money);
    printf(" %7.2f %3d of %d proved, %.1f s, %.2f s to the best on average", gap_percent(totals->cost, totals->lower_bound),
           totals->proved, totals->runs, totals->seconds, totals->runs == 0 ? 0 : totals->seconds_to_best / totals->runs);
    if (totals->known_values > 0)
        printf("; known %d: %d met, %d of them beaten", totals->known_values, totals->met, totals->better);
    if (totals->failed > 0)
        printf("; %d FAILED", totals->failed);
    printf("\n\n");
}

/* One table. Returns whether every run gave a checked plan. */
static bool run_table(const struct instances *list, const struct options *options, const struct known *known, bool turning)
{
    struct totals totals = {.known = known, .manner = &options->manner, .turning = turning};
    printf("%s, %s\n", list->at[0].set, list->at[0].own_turns ? "turning as each part says" : turning ? "turning" : "no turning");
    printf("%-28s %6s %6s %14s %14s %7s %-6s %7s %7s %7s\n", "instance", "kinds", "pieces", "cost", "bound", "gap %", "",
           "cpu s", "to best", "MB");
    bench_run(list, &options->manner, turning, report, &totals);
    print_totals(&totals);
    return totals.failed == 0;
}

static bool run_list(const struct instances *list, const struct options *options, const struct known *known)
{
    bool whole = true;
    if (list->count == 0)
        return true;
    if (list->at[0].own_turns)
        return run_table(list, options, known, false);
    if (options->without_turning)
        whole &= run_table(list, options, known, false);
    if (options->with_turning)
        whole &= run_table(list, options, known, true);
    return whole;
}

static bool run_file(const char *path, const struct options *options, const struct known *known)
{
    struct instances list = {0};
    const bool read = bench_read(path, &list);
    struct instances some = {.at = calloc(list.count + 1, sizeof *some.at)}; /* borrows from `list` */
    for (size_t i = 0; some.at != NULL && i < list.count; i++) {
        const bool matches = strncmp(list.at[i].name, options->match, strlen(options->match)) == 0;
        if (matches && (options->limit == 0 || (int64_t)some.count < options->limit))
            some.at[some.count++] = list.at[i];
    }
    const bool whole = read && some.at != NULL && run_list(&some, options, known);
    free(some.at);
    bench_free(&list);
    return whole;
}

static bool run_drawers(const struct options *options, const struct known *known)
{
    struct instances list = {0};
    const int64_t jobs = options->limit > 0 ? options->limit : 1;
    for (int64_t j = 0; j < jobs; j++)
        bench_drawer_job(&list, options->drawers, options->sizes, options->manner.seed + (uint64_t)j);
    const bool whole = run_list(&list, options, known);
    bench_free(&list);
    return whole;
}

static bool run_growth(const struct options *options, const struct known *known)
{
    static const int64_t PARTS[] = {50, 100, 200, 500, 1000, 2000, 5000, 10000};
    struct instances list = {0};
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++)
        bench_drawer_job(&list, (PARTS[i] + 3) / 4, options->sizes, options->manner.seed);
    const bool whole = run_list(&list, options, known);
    bench_free(&list);
    return whole;
}

static bool number(const char *text, int64_t least, int64_t most, int64_t *value)
{
    char *end = NULL;
    *value = strtoll(text, &end, 10);
    return *text != '\0' && *end == '\0' && *value >= least && *value <= most;
}

static bool set_manner(struct manner *manner, const char *name, const char *value)
{
    int64_t n = 0;
    if (strcmp(name, "--seconds") == 0) {
        manner->milliseconds = (int64_t)(1000 * strtod(value, NULL));
        manner->work = manner->work > 0 ? manner->work : INT64_C(1000000000000);
        return manner->milliseconds > 0;
    }
    if (strcmp(name, "--work") == 0)
        return number(value, 1, INT64_C(1000000000000), &manner->work);
    if (strcmp(name, "--patience") == 0)
        return dw_patience_parse(value, &manner->patience);
    if (strcmp(name, "--first-cut") == 0) {
        manner->first_cut = strcmp(value, "rip") == 0 ? DW_RIP : DW_CROSSCUT;
        return manner->first_cut == DW_RIP || strcmp(value, "crosscut") == 0;
    }
    if (!number(value, 0, INT64_MAX, &n))
        return false;
    if (strcmp(name, "--stages") == 0)
        manner->turns = (int)n;
    else if (strcmp(name, "--jobs") == 0)
        manner->jobs = n > 0 && n < 1000 ? (int)n : 1;
    else if (strcmp(name, "--threads") == 0)
        manner->threads = (int)n;
    else if (strcmp(name, "--seed") == 0)
        manner->seed = (uint64_t)n;
    else
        return false;
    return true;
}

/* A method to leave out; several by several options. */
static bool leave_out(const char *word, unsigned *without)
{
    for (int method = 0; method < DWI_METHODS; method++)
        if (strcmp(word, dwi_method_words[method]) == 0) {
            *without |= 1u << method;
            return true;
        }
    return false;
}

static bool set_option(struct options *options, const char *name, const char *value)
{
    int64_t n = 0;
    if (strcmp(name, "--turning") == 0) {
        options->with_turning = strcmp(value, "no") != 0;
        options->without_turning = strcmp(value, "yes") != 0;
        return strcmp(value, "both") == 0 || !(options->with_turning && options->without_turning);
    }
    if (strcmp(name, "--match") == 0) {
        options->match = value;
        return true;
    }
    if (strcmp(name, "--without") == 0)
        return leave_out(value, &options->manner.without);
    if (strcmp(name, "--limit") == 0)
        return number(value, 1, INT32_MAX, &options->limit);
    if (strcmp(name, "--drawers") == 0)
        return number(value, 1, 100000, &options->drawers);
    if (strcmp(name, "--sizes") == 0) {
        const bool right = number(value, 1, 4, &n) && (n == 1 || n == 4);
        options->sizes = (int)n;
        return right;
    }
    return set_manner(&options->manner, name, value);
}

static bool ends_with(const char *text, const char *end)
{
    const size_t length = strlen(text);
    return length >= strlen(end) && strcmp(text + length - strlen(end), end) == 0;
}

/* Options into *options, known values into *known; the other words stay in files[]. Returns their number, -1 for a usage error. */
static int read_arguments(int count, char **words, struct options *options, struct known *known, const char **files)
{
    int file_count = 0;
    for (int i = 1; i < count; i++) {
        if (strcmp(words[i], "--growth") == 0) {
            options->growth = true;
        } else if (strncmp(words[i], "--", 2) == 0) {
            if (i + 1 == count || !set_option(options, words[i], words[i + 1]))
                return -1;
            i++;
        } else if (ends_with(words[i], ".csv")) {
            if (!bench_read_known(words[i], known))
                return -1;
        } else {
            files[file_count++] = words[i];
        }
    }
    return file_count;
}

int main(int count, char **words)
{
    struct options options = {.manner = {.first_cut = -1, .jobs = 1, .threads = 1, .seed = 1}, .with_turning = true,
                              .without_turning = true, .match = "", .sizes = 1};
    struct known known = {0};
    const char **files = calloc((size_t)count, sizeof *files);
    const int file_count = files == NULL ? -1 : read_arguments(count, words, &options, &known, files);
    if (file_count < 0 || (file_count == 0 && options.drawers == 0 && !options.growth)) {
        fputs(USAGE, stderr);
        free(files);
        bench_free_known(&known);
        return 2;
    }
    bool whole = true;
    for (int f = 0; f < file_count; f++)
        whole &= run_file(files[f], &options, &known);
    if (options.drawers > 0)
        whole &= run_drawers(&options, &known);
    if (options.growth)
        whole &= run_growth(&options, &known);
    free(files);
    bench_free_known(&known);
    return whole ? 0 : 1;
}
