/* test_rooms.c - holds every #include line of the program to the table of rooms (docs/architecture.md).
 *
 * A room includes the public headers of the rooms that its row names, its own, its private headers, the C
 * library, and no foreign library but the one whose only home it is.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

struct room {
    const char *name;
    const char *headers; /* its public headers, between spaces */
    const char *may;     /* rooms it may include */
    const char *foreign; /* beginnings of the foreign headers whose home it is */
};

static const struct room rooms[] = {
    {"base", " fault memory text length money work crew address ", " ", " "},
    {"job", " job keys ", " base ", " "},
    {"sizing", " sizing ", " base job ", " "},
    {"parts", " parts ", " base job sizing ", " "},
    {"lp", " lp ", " base ", " glpk "},
    {"cutting", " cutting ", " base lp ", " "},
    {"layout", " layout ", " base job sizing parts cutting ", " "},
    {"purchase", " purchase ", " base job sizing parts lp cutting layout ", " "},
    {"rack", " rack progress ", " base job ", " sqlite3 "},
    {"leeway", " leeway ", " base job sizing parts lp cutting layout purchase ", " "},
    {"drawing", " drawing ", " base job sizing parts lp cutting layout purchase leeway ", " cairo pango fontconfig "},
    {"files", " files plan ", " base job sizing parts lp cutting layout purchase leeway rack ", " cjson "},
    {"run", " run ", " base job sizing parts lp cutting layout purchase rack leeway drawing files ", " "},
    {"cli", " ", " base job sizing parts lp cutting layout purchase rack leeway drawing files run page ", " "},
    {"page", " page ", " base job sizing parts lp cutting layout purchase rack leeway drawing files run ", " microhttpd "},
};

enum { ROOMS = sizeof rooms / sizeof *rooms };

static bool has_word(const char *words, const char *word)
{
    char padded[96];
    (void)snprintf(padded, sizeof padded, " %s ", word);
    return strstr(words, padded) != NULL;
}

static const struct room *room_of_header(const char *header)
{
    for (size_t r = 0; r < ROOMS; r++)
        if (has_word(rooms[r].headers, header))
            return &rooms[r];
    return NULL;
}

/* The C library and POSIX: a header without a folder, or under sys/, that belongs to no foreign library. */
static bool is_foreign(const char *path)
{
    static const char *const foreign[] = {"glpk", "cjson", "cairo", "pango", "fontconfig", "sqlite3", "microhttpd"};
    for (size_t i = 0; i < sizeof foreign / sizeof *foreign; i++)
        if (strncmp(path, foreign[i], strlen(foreign[i])) == 0)
            return true;
    return false;
}

static bool is_home(const struct room *room, const char *path)
{
    char library[32];
    (void)snprintf(library, sizeof library, "%.*s", (int)strcspn(path, "./-"), path);
    for (size_t length = strlen(library); length >= 4; length--) {
        library[length] = '\0';
        if (has_word(room->foreign, library))
            return true;
    }
    return false;
}

static bool allowed(const struct room *room, const char *path)
{
    char header[80] = "";
    if (sscanf(path, "drawerwright/%79[a-z_].h", header) == 1) {
        const struct room *owner = room_of_header(header);
        return owner != NULL && (owner == room || has_word(room->may, owner->name));
    }
    return !is_foreign(path) || is_home(room, path);
}

static bool exists(const char *folder, const char *name)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    if (file != NULL)
        (void)fclose(file);
    return file != NULL;
}

/* A file is spoken of by its name alone, so no other room may have one of the same name. */
static int namesakes(const struct room *room, const char *name)
{
    int found = 0;
    for (const struct room *other = rooms; other < rooms + ROOMS; other++) {
        char folder[256];
        (void)snprintf(folder, sizeof folder, DW_SOURCE_DIR "/src/%s", other->name);
        if (other != room && exists(folder, name)) {
            print_error("%s: in room %s and in room %s\n", name, room->name, other->name);
            found++;
        }
    }
    return found;
}

static int check_file(const struct room *room, const char *folder, const char *name)
{
    char path[512];
    char line[512];
    int breaches = namesakes(room, name);
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL) {
        char target[128] = "";
        const bool system = sscanf(line, " # include <%127[^>]>", target) == 1;
        const bool own = !system && sscanf(line, " # include \"%127[^\"]\"", target) == 1;
        if ((system && !allowed(room, target)) || (own && !exists(folder, target))) {
            print_error("%s: room %s may not include %s\n", path, room->name, target);
            breaches++;
        }
    }
    (void)fclose(file);
    return breaches;
}

static bool is_source(const char *name)
{
    const char *ending = strrchr(name, '.');
    return ending != NULL && (strcmp(ending, ".c") == 0 || strcmp(ending, ".h") == 0);
}

static void test_sources_keep_to_the_table(void **state)
{
    (void)state;
    int breaches = 0;
    int files = 0;
    for (size_t r = 0; r < ROOMS; r++) {
        char folder[256];
        (void)snprintf(folder, sizeof folder, DW_SOURCE_DIR "/src/%s", rooms[r].name);
        DIR *directory = opendir(folder);
        for (struct dirent *entry = NULL; directory != NULL && (entry = readdir(directory)) != NULL;)
            if (is_source(entry->d_name)) {
                breaches += check_file(&rooms[r], folder, entry->d_name);
                files++;
            }
        if (directory != NULL)
            (void)closedir(directory);
    }
    assert_true(files > 20);
    assert_int_equal(breaches, 0);
}

static void test_public_headers_keep_to_the_table(void **state)
{
    (void)state;
    int breaches = 0;
    int files = 0;
    DIR *directory = opendir(DW_SOURCE_DIR "/include/drawerwright");
    assert_non_null(directory);
    for (struct dirent *entry = NULL; (entry = readdir(directory)) != NULL;) {
        if (!is_source(entry->d_name))
            continue;
        char name[80];
        (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(entry->d_name, "."), entry->d_name);
        const struct room *room = room_of_header(name);
        if (room == NULL) {
            print_error("include/drawerwright/%s belongs to no room\n", entry->d_name);
            breaches++;
            continue;
        }
        breaches += check_file(room, DW_SOURCE_DIR "/include/drawerwright", entry->d_name);
        files++;
    }
    (void)closedir(directory);
    assert_true(files > 10);
    assert_int_equal(breaches, 0);
}

static void test_the_table_itself_refuses(void **state)
{
    (void)state;
    const struct room *cutting = room_of_header("cutting");
    assert_false(allowed(cutting, "drawerwright/sizing.h"));
    assert_false(allowed(cutting, "glpk.h"));
    assert_false(allowed(cutting, "cairo-pdf.h"));
    assert_true(allowed(cutting, "drawerwright/lp.h"));
    assert_true(allowed(cutting, "stdint.h"));
    assert_true(allowed(room_of_header("drawing"), "pango/pangocairo.h"));
    assert_true(allowed(room_of_header("files"), "cjson/cJSON.h"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sources_keep_to_the_table),
        cmocka_unit_test(test_public_headers_keep_to_the_table),
        cmocka_unit_test(test_the_table_itself_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
