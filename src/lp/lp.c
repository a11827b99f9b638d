/* lp.c - linear and integer programs on GLPK.
 *
 * Rows and columns are counted from 0 here and from 1 there. Every call that may end in a fatal error runs under solver_run: it packs
 * its arguments into a struct, and a body does the work. A model is dead once it failed or its environment died; the dead answer
 * -1, false or DW_LP_FAILED and are only freed.
 *
 * What GLPK would answer wrongly in silence is refused before it sees it: NaN makes it say "infeasible", a new column is born fixed at
 * zero, return code 0 means "ran", not "optimal". What it solves is found by floating point: a caller that needs
 * certainty proves it in integers.
 */
#include <drawerwright/lp.h>

#include <glpk.h>
#include <limits.h>
#include <math.h>

#include <drawerwright/memory.h>

#include "solver.h"

/* Runs that the limits on iterations and nodes should have ended long before; the clock only saves from an endless loop of the solver. */
enum { SAFETY_MS = 600 * 1000 };

struct dw_lp {
    struct dw_arena *memory; /* holds this struct too */
    glp_prob *model;
    unsigned epoch;
    bool failed;
    int *places;             /* scratch of `room` entries, used from 1 */
    double *entries;
    size_t room;
    int64_t *whole;          /* values of the last integer solution, by column */
    size_t whole_room;
    int64_t ticks;           /* of work, a thousandth of a unit each, estimated */
    int64_t ticks_most;      /* an integer program stops there; 0: nowhere */
};

static bool dead(const struct dw_lp *lp)
{
    return lp->failed || !solver_alive(lp->epoch);
}

/* Runs body(context) unless the model is dead; it is dead after a fatal error. */
static bool run(struct dw_lp *lp, void (*body)(void *context), void *context)
{
    if (dead(lp))
        return false;
    lp->failed = !solver_run(body, context);
    return !lp->failed;
}

/* ---- making and freeing ---- */

struct making {
    struct dw_arena *memory;
    struct dw_lp *lp;
};

static void new_struct(void *context)
{
    struct making *making = context;
    making->lp = dw_arena_alloc(making->memory, 1, sizeof *making->lp);
    making->lp->memory = making->memory;
}

static void new_model(void *context)
{
    struct dw_lp *lp = context;
    lp->model = glp_create_prob();
    glp_set_obj_dir(lp->model, GLP_MIN);
}

struct dw_lp *dw_lp_new(void)
{
    struct making making = {.memory = dw_arena_new()};
    if (making.memory == NULL)
        return NULL;
    if (!dw_arena_guard(making.memory, new_struct, &making)) {
        dw_arena_free(making.memory);
        return NULL;
    }
    making.lp->epoch = solver_enter();
    if (!run(making.lp, new_model, making.lp)) {
        dw_lp_free(making.lp);
        return NULL;
    }
    return making.lp;
}

static void delete_model(void *context)
{
    struct dw_lp *lp = context;
    glp_delete_prob(lp->model);
}

void dw_lp_free(struct dw_lp *lp)
{
    if (lp == NULL)
        return;
    if (solver_alive(lp->epoch))
        (void)solver_run(delete_model, lp);
    solver_leave(lp->epoch);
    dw_arena_free(lp->memory);
}

/* ---- rows and columns ---- */

/* A side without bound is infinite in its own direction only. */
static bool bounds_make_sense(double lower, double upper)
{
    return !isnan(lower) && !isnan(upper) && lower <= upper && lower < (double)INFINITY && upper > -(double)INFINITY;
}

static bool all_finite(const double *numbers, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(numbers[i]))
            return false;
    return true;
}

static int kind_of(double lower, double upper)
{
    if (isinf(lower))
        return isinf(upper) ? GLP_FR : GLP_UP;
    if (isinf(upper))
        return GLP_LO;
    return lower < upper ? GLP_DB : GLP_FX;
}

/* One row or column on its way into the model. */
struct adding {
    struct dw_lp *lp;
    int index; /* from 0; the new one's on return */
    double cost, lower, upper;
    bool integer;
    const int *places;
    const double *entries;
    size_t count;
};

static void reserve(void *context)
{
    const struct adding *adding = context;
    struct dw_lp *lp = adding->lp;
    const size_t room = 2 * adding->count + 16;
    lp->room = 0; /* until both are there */
    lp->places = dw_arena_alloc(lp->memory, room, sizeof *lp->places);
    lp->entries = dw_arena_alloc(lp->memory, room, sizeof *lp->entries);
    lp->room = room;
}

/* Copies the entries to where GLPK reads them, from 1. */
static bool gather(struct adding *adding)
{
    struct dw_lp *lp = adding->lp;
    if (adding->count > INT_MAX / 4 || !all_finite(adding->entries, adding->count))
        return false;
    if (adding->count + 1 > lp->room && !dw_arena_guard(lp->memory, reserve, adding))
        return false;
    for (size_t i = 0; i < adding->count; i++) {
        lp->places[i + 1] = adding->places[i] + 1;
        lp->entries[i + 1] = adding->entries[i];
    }
    return true;
}

static void add_row(void *context)
{
    struct adding *adding = context;
    glp_prob *model = adding->lp->model;
    const int row = glp_add_rows(model, 1);
    glp_set_row_bnds(model, row, kind_of(adding->lower, adding->upper), adding->lower, adding->upper);
    glp_set_mat_row(model, row, (int)adding->count, adding->lp->places, adding->lp->entries);
    adding->index = row - 1;
}

static void add_column(void *context)
{
    struct adding *adding = context;
    glp_prob *model = adding->lp->model;
    const int column = glp_add_cols(model, 1);
    glp_set_obj_coef(model, column, adding->cost);
    glp_set_col_kind(model, column, adding->integer ? GLP_IV : GLP_CV);
    glp_set_col_bnds(model, column, kind_of(adding->lower, adding->upper), adding->lower, adding->upper);
    glp_set_mat_col(model, column, (int)adding->count, adding->lp->places, adding->lp->entries);
    adding->index = column - 1;
}

static int add(struct adding *adding, void (*body)(void *context))
{
    if (!bounds_make_sense(adding->lower, adding->upper) || !isfinite(adding->cost) || !gather(adding))
        return -1;
    return run(adding->lp, body, adding) ? adding->index : -1;
}

int dw_lp_add_row(struct dw_lp *lp, double lower, double upper)
{
    struct adding adding = {.lp = lp, .lower = lower, .upper = upper};
    return add(&adding, add_row);
}

int dw_lp_add_row_over(struct dw_lp *lp, double lower, double upper, const int *columns, const double *entries,
                       size_t count)
{
    struct adding adding = {
        .lp = lp, .lower = lower, .upper = upper, .places = columns, .entries = entries, .count = count};
    return add(&adding, add_row);
}

int dw_lp_add_column(struct dw_lp *lp, double cost, double lower, double upper, bool integer, const int *rows,
                     const double *entries, size_t count)
{
    struct adding adding = {.lp = lp,
                            .cost = cost,
                            .lower = integer ? ceil(lower) : lower,
                            .upper = integer ? floor(upper) : upper,
                            .integer = integer,
                            .places = rows,
                            .entries = entries,
                            .count = count};
    return add(&adding, add_column);
}

static void set_row(void *context)
{
    const struct adding *to = context;
    glp_set_row_bnds(to->lp->model, to->index + 1, kind_of(to->lower, to->upper), to->lower, to->upper);
}

static void set_column(void *context)
{
    const struct adding *to = context;
    glp_set_obj_coef(to->lp->model, to->index + 1, to->cost);
    glp_set_col_bnds(to->lp->model, to->index + 1, kind_of(to->lower, to->upper), to->lower, to->upper);
}

bool dw_lp_set_row(struct dw_lp *lp, int row, double lower, double upper)
{
    struct adding to = {.lp = lp, .index = row, .lower = lower, .upper = upper};
    return bounds_make_sense(lower, upper) && run(lp, set_row, &to);
}

bool dw_lp_set_column(struct dw_lp *lp, int column, double cost, double lower, double upper)
{
    struct adding to = {.lp = lp, .index = column, .cost = cost, .lower = lower, .upper = upper};
    return isfinite(cost) && bounds_make_sense(lower, upper) && run(lp, set_column, &to);
}

/* ---- the linear program ---- */

struct solving {
    struct dw_lp *lp;
    int iterations; /* allowed to the simplex method */
    int64_t nodes;  /* allowed to branch and bound; counted down */
    int steps_seen; /* of the simplex method, already counted */
    double cutoff;
    enum dw_lp_answer answer;
};

/* A run of the simplex method: 12 ticks for each entry to begin with, and each step 3,000 and 60 for each row and 2 for each entry (least squares
 * over 1,700 covering programs of 10 to 500 rows; within a quarter for each class of size). */
static void count_steps(struct dw_lp *lp, int64_t steps)
{
    lp->ticks += steps * (3000 + 60 * glp_get_num_rows(lp->model) + 2 * glp_get_num_nz(lp->model));
}

static void count_run(struct dw_lp *lp, int steps_before)
{
    lp->ticks += 12 * (int64_t)glp_get_num_nz(lp->model);
    count_steps(lp, glp_get_it_cnt(lp->model) - steps_before);
}

void dw_lp_limit_work(struct dw_lp *lp, int64_t units)
{
    lp->ticks_most = lp->ticks + 1000 * (units > 0 ? units : 1);
}

int64_t dw_lp_work(const struct dw_lp *lp)
{
    return lp->ticks / 1000;
}

static enum dw_lp_answer linear_answer(glp_prob *model, int code)
{
    if (code == GLP_EITLIM)
        return DW_LP_LIMIT;
    if (code != 0)
        return DW_LP_FAILED;
    switch (glp_get_status(model)) {
    case GLP_OPT: return DW_LP_OPTIMAL;
    case GLP_NOFEAS: return DW_LP_INFEASIBLE;
    case GLP_UNBND: return DW_LP_UNBOUNDED;
    default: return DW_LP_FAILED;
    }
}

/* The presolver stays off: it would lose the basis that the next run starts from. A basis that went bad (rows were taken out, or it
 * became singular) is replaced once by the standard one. */
static void solve_linear(void *context)
{
    struct solving *solving = context;
    glp_prob *model = solving->lp->model;
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.meth = GLP_PRIMAL;
    how.it_lim = solving->iterations;
    how.tm_lim = SAFETY_MS;
    const int before = glp_get_it_cnt(model);
    int code = glp_simplex(model, &how);
    if (code == GLP_EBADB || code == GLP_ESING || code == GLP_ECOND || code == GLP_EFAIL) {
        glp_std_basis(model);
        code = glp_simplex(model, &how);
    }
    count_run(solving->lp, before);
    solving->answer = linear_answer(model, code);
}

static enum dw_lp_answer solve(struct solving *solving, void (*body)(void *context))
{
    if (!run(solving->lp, body, solving))
        return DW_LP_FAILED;
    if (solving->answer == DW_LP_FAILED)
        solving->lp->failed = true;
    return solving->answer;
}

enum dw_lp_answer dw_lp_solve(struct dw_lp *lp, int iterations)
{
    struct solving solving = {.lp = lp, .iterations = iterations > 0 ? iterations : 0};
    return solve(&solving, solve_linear);
}

double dw_lp_objective(const struct dw_lp *lp)
{
    return dead(lp) ? 0 : glp_get_obj_val(lp->model);
}

double dw_lp_value(const struct dw_lp *lp, int column)
{
    return dead(lp) ? 0 : glp_get_col_prim(lp->model, column + 1);
}

double dw_lp_dual(const struct dw_lp *lp, int row)
{
    return dead(lp) ? 0 : glp_get_row_dual(lp->model, row + 1);
}

/* ---- the integer program ---- */

/* Each node has its steps, and its basis is put away and fetched again. */
static void count_node(struct solving *solving)
{
    struct dw_lp *lp = solving->lp;
    const int steps = glp_get_it_cnt(lp->model);
    lp->ticks += 100 * ((int64_t)glp_get_num_rows(lp->model) + glp_get_num_cols(lp->model));
    count_steps(lp, steps - solving->steps_seen);
    solving->steps_seen = steps;
    solving->nodes--;
}

/* Upon the column whose fraction is greatest, upwards first: a dive that ends in whole numbers after about as many nodes as these add up to.
 * Rules that weigh every column (N. J. Driebeck 1966, J. A. Tomlin 1971) cost ten nodes' time at each node and find no more for it. */
static void branch(glp_tree *tree)
{
    glp_prob *model = glp_ios_get_prob(tree);
    int chosen = 0;
    double most = -1;
    for (int column = 1; column <= glp_get_num_cols(model); column++) {
        const double value = glp_get_col_prim(model, column);
        if (glp_ios_can_branch(tree, column) && value - floor(value) > most) {
            most = value - floor(value);
            chosen = column;
        }
    }
    glp_ios_branch_upon(tree, chosen, GLP_UP_BRNCH);
}

static void watch(glp_tree *tree, void *context)
{
    struct solving *solving = context;
    if (glp_ios_reason(tree) == GLP_IBRANCH)
        branch(tree);
    if (glp_ios_reason(tree) != GLP_ISELECT)
        return;
    count_node(solving);
    if (solving->nodes < 0 || (solving->lp->ticks_most > 0 && solving->lp->ticks >= solving->lp->ticks_most))
        glp_ios_terminate(tree);
}

static enum dw_lp_answer integer_answer(glp_prob *model, int code)
{
    const int status = glp_mip_status(model);
    if (code == 0 && status == GLP_OPT)
        return DW_LP_OPTIMAL;
    if (code == 0 && status == GLP_NOFEAS)
        return DW_LP_INFEASIBLE;
    if (code == GLP_ESTOP || code == GLP_ETMLIM)
        return status == GLP_FEAS ? DW_LP_FEASIBLE : DW_LP_LIMIT;
    return DW_LP_FAILED;
}

/* Depth first and back to the node last left: what is cheapest to come by. */
static int branch_and_bound(struct solving *solving)
{
    glp_iocp how;
    glp_init_iocp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.bt_tech = GLP_BT_DFS;
    how.cb_func = watch;
    how.cb_info = solving;
    how.tm_lim = SAFETY_MS;
    solving->steps_seen = glp_get_it_cnt(solving->lp->model);
    return glp_intopt(solving->lp->model, &how);
}

/* Adds a row that keeps the cost below the cutoff by a millionth of it. The scratch holds all columns. */
static void add_cutoff(struct dw_lp *lp, double cutoff)
{
    const int row = glp_add_rows(lp->model, 1);
    int count = 0;
    for (int column = 1; column <= glp_get_num_cols(lp->model); column++) {
        const double cost = glp_get_obj_coef(lp->model, column);
        if (cost == 0)
            continue;
        count++;
        lp->places[count] = column;
        lp->entries[count] = cost;
    }
    glp_set_mat_row(lp->model, row, count, lp->places, lp->entries);
    glp_set_row_bnds(lp->model, row, GLP_UP, 0, cutoff - 1e-6 * fmax(1, fabs(cutoff)));
}

static void take_out_last_row(glp_prob *model)
{
    const int rows[2] = {0, glp_get_num_rows(model)};
    glp_del_rows(model, 1, rows);
}

static void keep_values(struct dw_lp *lp)
{
    for (int column = 1; column <= glp_get_num_cols(lp->model); column++)
        lp->whole[column - 1] = llround(glp_mip_col_val(lp->model, column));
}

/* Without its presolver branch and bound starts from an optimal basis of the relaxation. */
static void solve_integer(void *context)
{
    struct solving *solving = context;
    struct dw_lp *lp = solving->lp;
    const bool cut = isfinite(solving->cutoff);
    if (cut)
        add_cutoff(lp, solving->cutoff);
    solve_linear(solving);
    if (solving->answer == DW_LP_OPTIMAL) {
        solving->answer = integer_answer(lp->model, branch_and_bound(solving));
        if (solving->answer == DW_LP_OPTIMAL || solving->answer == DW_LP_FEASIBLE)
            keep_values(lp);
    }
    if (cut)
        take_out_last_row(lp->model);
}

static void reserve_whole(void *context)
{
    struct adding *columns = context;
    struct dw_lp *lp = columns->lp;
    lp->whole = dw_arena_alloc(lp->memory, columns->count, sizeof *lp->whole);
    lp->whole_room = columns->count;
    if (lp->room < columns->count + 1)
        reserve(columns);
}

enum dw_lp_answer dw_lp_solve_integer(struct dw_lp *lp, int64_t nodes, double cutoff)
{
    if (dead(lp) || isnan(cutoff))
        return DW_LP_FAILED;
    struct adding columns = {.lp = lp, .count = (size_t)glp_get_num_cols(lp->model)};
    if (lp->whole_room < columns.count && !dw_arena_guard(lp->memory, reserve_whole, &columns))
        return DW_LP_FAILED;
    struct solving solving = {.lp = lp, .iterations = INT_MAX, .nodes = nodes, .cutoff = cutoff};
    return solve(&solving, solve_integer);
}

int64_t dw_lp_integer_value(const struct dw_lp *lp, int column)
{
    return dead(lp) || (size_t)column >= lp->whole_room ? 0 : lp->whole[column];
}

/* ---- a second opinion ---- */

struct writing {
    struct dw_lp *lp;
    const char *path;
    bool written;
};

static void write_model(void *context)
{
    struct writing *writing = context;
    writing->written = glp_write_mps(writing->lp->model, GLP_MPS_FILE, NULL, writing->path) == 0;
}

bool dw_lp_write(struct dw_lp *lp, const char *path)
{
    struct writing writing = {.lp = lp, .path = path};
    return run(lp, write_model, &writing) && writing.written;
}
