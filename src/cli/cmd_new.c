/* cmd_new.c - a job by a few questions at the terminal: what is measured, how it should fit, and from what; written as a job file.
 *
 * Every question shows what an empty answer means. An answer that cannot be read is asked again with the reason. The end of input ends
 * the questions without writing anything.
 */
#include "cli.h"

#include <string.h>
#include <unistd.h>

#include <drawerwright/memory.h>

enum { LINE_ROOM = 512 };

struct interview {
    struct cli_session session;
    struct dw_text json;
    enum dw_unit unit;
    const struct dw_shop *shop; /* of the file named; NULL: told here */
    bool ended; /* input ran out */
};

/* One line of stdin without its end; false at the end of input. */
static bool read_line(char *line)
{
    if (fgets(line, LINE_ROOM, stdin) == NULL)
        return false;
    line[strcspn(line, "\r\n")] = '\0';
    return true;
}

/* An answer, or `usual` when it is empty; "" at the end of input. */
static const char *ask(struct interview *interview, const char *question, const char *usual)
{
    char line[LINE_ROOM];
    printf(usual[0] == '\0' ? "%s: " : "%s [%s]: ", question, usual);
    (void)fflush(stdout);
    if (interview->ended || !read_line(line)) {
        interview->ended = true;
        return "";
    }
    if (!dw_utf8_is_clean(line, strlen(line)) || line[0] == '\0')
        return usual;
    return dw_arena_string(interview->session.arena, line);
}

/* Asks until the answer is one of the words. */
static const char *ask_word(struct interview *interview, const char *question, const char *const *words, size_t count)
{
    while (!interview->ended) {
        const char *answer = ask(interview, question, words[0]);
        for (size_t i = 0; i < count; i++)
            if (strcmp(answer, words[i]) == 0)
                return words[i];
        if (!interview->ended)
            puts("  please answer with one of the words named");
    }
    return words[0];
}

/* Asks until the answer is a length above zero; several readings with ";" between them when `many`. */
static const char *ask_length(struct interview *interview, const char *question, const char *usual, bool many)
{
    while (!interview->ended) {
        const char *answer = ask(interview, question, usual);
        const char *why = "expected a length";
        bool sound = answer[0] != '\0';
        char *copy = dw_arena_string(interview->session.arena, answer);
        char *rest = NULL;
        for (char *piece = strtok_r(copy, many ? ";" : "", &rest); piece != NULL && sound; piece = strtok_r(NULL, many ? ";" : "", &rest)) {
            dw_length length = 0;
            sound = dw_length_parse(piece, interview->unit, &length, &why) && length > 0;
        }
        if (sound)
            return answer;
        if (!interview->ended)
            printf("  %s\n", why);
    }
    return "";
}

static const char *ask_money(struct interview *interview, const char *question)
{
    while (!interview->ended) {
        const char *why = NULL;
        dw_money money = 0;
        const char *answer = ask(interview, question, "0");
        if (dw_money_parse(answer, 2, &money, &why))
            return answer;
        if (!interview->ended)
            printf("  %s\n", why);
    }
    return "0";
}

static void add_pair(struct dw_text *json, const char *key, const char *value, const char *behind)
{
    dw_json_quote(key, json);
    dw_text_add(json, ": ");
    dw_json_quote(value, json);
    dw_text_add(json, behind);
}

/* One reading as a string, several as an array. */
static void add_readings(struct interview *interview, const char *key, const char *answer, const char *behind)
{
    struct dw_text *json = &interview->json;
    char *rest = NULL;
    size_t count = 0;
    dw_json_quote(key, json);
    dw_text_add(json, ": [");
    for (char *piece = strtok_r(dw_arena_string(interview->session.arena, answer), ";", &rest); piece != NULL; piece = strtok_r(NULL, ";", &rest)) {
        piece += strspn(piece, " ");
        dw_text_add(json, count++ == 0 ? "" : ", ");
        dw_json_quote(piece, json);
    }
    dw_text_addf(json, "]%s", behind);
}

struct usual_sheet {
    const char *id, *question, *thickness_in, *thickness_mm;
};

/* A material with one sheet size, asked for. */
static void add_material(struct interview *interview, const struct usual_sheet *usual, const char *behind)
{
    struct dw_text *json = &interview->json;
    const bool inches = interview->unit == DW_IN;
    const char *name = ask(interview, usual->question, usual->id);
    const char *thickness = ask_length(interview, "  its thickness, as measured", inches ? usual->thickness_in : usual->thickness_mm, false);
    const char *length = ask_length(interview, "  a sheet's length (along the grain)", inches ? "96" : "2440", false);
    const char *width = ask_length(interview, "  a sheet's width", inches ? "48" : "1220", false);
    const char *price = ask_money(interview, "  a sheet's price");
    dw_text_add(json, "      { ");
    add_pair(json, "id", usual->id, ", ");
    add_pair(json, "name", name, ", ");
    add_pair(json, "thickness", thickness, ", \"grain\": true,\n        \"sheets\": [ { ");
    add_pair(json, "id", dw_arena_format(interview->session.arena, "%s sheet", usual->id), ", ");
    add_pair(json, "length", length, ", ");
    add_pair(json, "width", width, ", ");
    add_pair(json, "price", price, " } ] }");
    dw_text_add(json, behind);
}

/* Side-mount slides in 2 in steps from 10 to 24 in, or 50 mm steps from 250 to 600: common practice, no source. */
static void add_slides(struct interview *interview)
{
    struct dw_text *json = &interview->json;
    const bool inches = interview->unit == DW_IN;
    const char *price = ask_money(interview, "A pair of side-mount slides costs");
    dw_text_addf(json, "    \"slides\": [ { \"id\": \"side\", \"name\": \"side-mount slide\", \"kind\": \"side-mount\", \"clearance\": \"%s\",\n      \"lengths\": [ ",
                 inches ? "1/2" : "12.7");
    for (int i = 0; i < 8; i++)
        dw_text_addf(json, "%s{ \"length\": \"%d\", \"price\": \"%s\" }", i == 0 ? "" : ", ", inches ? 10 + 2 * i : 250 + 50 * i, price);
    dw_text_add(json, " ] } ]\n  },\n");
}

/* Where the job's file will be, and with it what it names. */
static const char *job_folder(const struct interview *interview)
{
    const char *path = interview->session.options->files[0];
    const char *slash = strrchr(path, '/');
    return slash == NULL ? "." : dw_arena_slice(interview->session.arena, path, (size_t)(slash - path));
}

/* The shop in a file beside the job; NULL, with the reasons told, when there is none that can be read. */
static const struct dw_shop *read_shop(struct interview *interview, const char *name)
{
    struct cli_session *session = &interview->session;
    struct dw_faults *faults = dw_faults_new();
    struct dw_text text = dw_text_in(session->arena);
    const struct dw_job *job = NULL;
    dw_text_add(&text, "{ ");
    add_pair(&text, "shop", name, " }");
    if (faults != NULL)
        (void)dw_job_read_text(text.bytes, text.length, "new", job_folder(interview), NULL, session->arena, faults, &job);
    for (size_t i = 0; faults != NULL && i < faults->count; i++)
        printf("  %s: %s\n", faults->at[i].address, faults->at[i].wrong);
    dw_faults_free(faults);
    return job == NULL ? NULL : &job->shop;
}

/* The shop's file; "" when there is none. */
static const char *ask_shop(struct interview *interview)
{
    while (!interview->ended) {
        const char *name = ask(interview, "Shop file with materials, sheets and slides (empty: tell them here)", "");
        if (name[0] == '\0')
            return name;
        interview->shop = read_shop(interview, name);
        if (interview->shop != NULL && interview->shop->material_count > 0)
            return name;
        puts("  expected the name of a file with materials, beside the job");
    }
    return "";
}

static void add_shop(struct interview *interview)
{
    static const struct usual_sheet sheets[] = {
        {"sides", "Box sides, box fronts and backs are of", "15/32", "12"},
        {"bottoms", "Bottoms are of", "7/32", "6"},
        {"fronts", "Fronts are of", "23/32", "18"},
    };
    struct dw_text *json = &interview->json;
    const char *shop = ask_shop(interview);
    if (shop[0] != '\0') {
        dw_text_add(json, "  ");
        add_pair(json, "shop", shop, ",\n");
        return;
    }
    dw_text_add(json, "  \"shop\": {\n    \"materials\": [\n");
    for (size_t i = 0; i < 3; i++)
        add_material(interview, &sheets[i], i < 2 ? ",\n" : "\n    ],\n");
    add_slides(interview);
}

static void add_drawers(struct interview *interview)
{
    struct dw_text *json = &interview->json;
    int count = 0;
    while (count < 1 && !interview->ended) {
        const char *answer = ask(interview, "How many drawers, one above the other", "4");
        if (sscanf(answer, "%d", &count) != 1 || count < 1 || count > 60) {
            count = 0;
            puts("  expected a number from 1 to 60");
        }
    }
    const char *top = ask(interview, "Height of the top front (empty: all alike)", "");
    dw_length length = 0;
    dw_text_add(json, "      \"banks\": [ { \"drawers\": [ ");
    for (int i = 0; i < count; i++) {
        dw_text_add(json, i == 0 ? "" : ", ");
        if (i == 0 && dw_length_parse(top, interview->unit, &length, NULL) && length > 0) {
            dw_text_add(json, "{ ");
            add_pair(json, "height", top, " }");
        } else {
            dw_text_add(json, "{}");
        }
    }
    dw_text_add(json, " ] } ] }\n  ]\n}\n");
}

static void add_case(struct interview *interview)
{
    static const char *const styles[] = {"frameless", "face frame"};
    static const char *const fits[] = {"inset", "overlay", "full overlay"};
    struct dw_text *json = &interview->json;
    const char *name = ask(interview, "The case is called", "Case");
    const char *style = ask_word(interview, "It is (frameless, face frame)", styles, 2);
    const char *width = ask_length(interview, "Its opening's width (several readings with ; between: the least counts)", "", true);
    const char *height = ask_length(interview, "Its opening's height", "", true);
    const char *depth = ask_length(interview, "Its depth inside, from the face to the back", "", true);
    const char *fit = ask_word(interview, "Fronts are (inset, overlay, full overlay)", fits, 3);
    dw_text_add(json, "  \"cases\": [\n    { ");
    add_pair(json, "name", name, ", ");
    add_pair(json, "style", style, ",\n      \"opening\": { ");
    add_readings(interview, "width", width, ", ");
    add_readings(interview, "height", height, ", ");
    add_readings(interview, "depth", depth, " },\n      ");
    add_pair(json, "fit", fit, ",\n");
}

/* What the parts are of: one of the shop's materials each, or those that were told here. */
static void add_materials(struct interview *interview)
{
    static const char *const questions[] = {"Box sides, box fronts and backs are of", "Bottoms are of", "Fronts are of"};
    const char *chosen[3] = {"sides", "bottoms", "fronts"};
    const struct dw_shop *shop = interview->shop;
    struct dw_text *json = &interview->json;
    if (shop != NULL) {
        const char **ids = dw_arena_alloc(interview->session.arena, shop->material_count, sizeof *ids);
        fputs("The shop has", stdout);
        for (size_t i = 0; i < shop->material_count; i++) {
            ids[i] = shop->materials[i].id;
            printf("%s %s", i == 0 ? "" : ",", ids[i]);
        }
        puts("");
        for (size_t i = 0; i < 3; i++)
            chosen[i] = ask_word(interview, questions[i], ids, shop->material_count);
    }
    dw_text_add(json, "      \"front\": { ");
    add_pair(json, "material", chosen[2], " }, \"box\": { ");
    add_pair(json, "sides", chosen[0], ", ");
    add_pair(json, "bottom", chosen[1], shop == NULL ? " }, \"slide\": \"side\",\n" : " },\n");
}

static void add_job(struct interview *interview)
{
    static const char *const units[] = {"in", "mm"};
    struct dw_text *json = &interview->json;
    const char *name = ask(interview, "The job is called", "Drawers");
    const char *unit = ask_word(interview, "Bare numbers are (in, mm)", units, 2);
    interview->unit = strcmp(unit, "mm") == 0 ? DW_MILLIMETER : DW_IN;
    dw_text_add(json, "{\n  \"format\": 1,\n  ");
    add_pair(json, "name", name, ",\n  ");
    add_pair(json, "units", unit, ",\n");
    add_shop(interview);
    add_case(interview);
    add_materials(interview);
    add_drawers(interview);
}

/* Reads the text back as any job, so that what is written is known to be sound; faults are told, and the file is written all the same. */
static void check(struct interview *interview)
{
    struct cli_session *session = &interview->session;
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    if (dw_job_read_text(interview->json.bytes, interview->json.length, "new", job_folder(interview), NULL, session->arena, session->faults, &job) == DW_DONE)
        (void)dw_job_complete(job, session->arena, session->faults, &complete);
}

static void body(void *context)
{
    struct interview *interview = context;
    struct cli_session *session = &interview->session;
    const char *path = session->options->files[0];
    if (access(path, F_OK) == 0) {
        dw_error(session->faults, DW_INPUT, "exists", path, "there is a file of this name already\nname another one");
        session->status = DW_INPUT;
        return;
    }
    interview->json = dw_text_in(session->arena);
    add_job(interview);
    if (interview->ended) {
        dw_error(session->faults, DW_INPUT, "unanswered", path, "the questions were not answered to the end; nothing is written");
        session->status = DW_INPUT;
        return;
    }
    check(interview);
    session->status = dw_file_write(path, interview->json.bytes, interview->json.length, session->faults);
    if (session->status == DW_DONE)
        printf("\nWritten: %s. Next: drawerwright plan %s -o packet\n", path, path);
}

enum dw_status cmd_new(const struct cli_options *options)
{
    struct interview interview = {.session = {.options = options, .arena = dw_arena_new(), .faults = dw_faults_new()}};
    struct cli_session *session = &interview.session;
    if (session->arena == NULL || session->faults == NULL || !dw_arena_guard(session->arena, body, &interview))
        session->status = DW_SURROUNDINGS;
    return cli_session_end(session, NULL);
}
