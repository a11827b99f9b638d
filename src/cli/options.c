/* options.c - the one table of options, their reading, and the help that is made from it; and the one table of exits. */
#include "cli.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

enum kind { FLAG, WORD, NUMBER, SETTING, KEEP };

/* An option: where it goes, and which commands know it. */
struct option {
    const char *name;
    const char *short_name; /* or NULL */
    const char *argument;   /* NULL for a flag */
    const char *help;
    const char *commands;   /* " plan buy ": names between spaces; "": all */
    enum kind kind;
    size_t offset;
    int64_t least, most;    /* NUMBER */
    const char *words;      /* WORD: the words allowed, between spaces; NULL: any */
};

#define PLACE(member) offsetof(struct cli_options, member)
#define PLANNING " layout buy plan compare replan "

static const struct option options_table[] = {
    {"--out", "-o", "PATH", "where to write: a folder (plan) or a file .svg .pdf .png (sketch), .pdf (rack labels)", " plan sketch replan rack ", WORD, PLACE(out), 0, 0, NULL},
    {"--json", NULL, NULL, "answer in JSON, for another program", " check size parts layout buy plan replan state ", FLAG, PLACE(json), 0, 0, NULL},
    {"--figuring", NULL, NULL, "show the arithmetic of every figure", " size ", FLAG, PLACE(figuring), 0, 0, NULL},
    {"--only", NULL, "PATH", "one case or bank, or one drawer with its arithmetic: \"Bench/2/3\"", " size ", WORD, PLACE(only), 0, 0, NULL},
    {"--only", NULL, "PARTS", "plan boxes, fronts, case, extras, or a path; several with commas between", " layout buy plan replan ", WORD, PLACE(only), 0, 0, NULL},
    {"--step", NULL, "N", "the sheets named are done to this step of the cut order", " done ", NUMBER, PLACE(step), 1, INT32_MAX, NULL},
    {"--set", NULL, "PLACE=VALUE", "change the job for this call: shop.habits.kerf=3/32", " check size sketch parts layout buy plan compare replan ", SETTING, 0, 0, 0, NULL},
    {"--shop", NULL, "FILE", "the shop file for a bare list of parts (PARTS.csv)", " parts layout buy plan compare replan ", WORD, PLACE(shop), 0, 0, NULL},
    {"--patience", NULL, "WORD", "how long to look: short, coffee (usual), lunch", PLANNING, WORD, PLACE(patience), 0, 0, " short coffee lunch "},
    {"--seconds", NULL, "N", "stop looking after N seconds (then a plan may differ from call to call)", PLANNING, NUMBER, PLACE(seconds), 1, 86400, NULL},
    {"--seed", NULL, "N", "another throw of the dice for the search", PLANNING, NUMBER, PLACE(seed), 0, INT32_MAX, NULL},
    {"--threads", NULL, "N", "at most so many at once; never changes the plan", PLANNING, NUMBER, PLACE(threads), 1, 64, NULL},
    {"--turns", NULL, "N", "at most so many turns of the piece between cuts: 2 or 3", PLANNING, NUMBER, PLACE(turns), 2, 3, NULL},
    {"--first", NULL, "WORD", "break every sheet down along or across first", PLANNING, WORD, PLACE(first), 0, 0, " along across "},
    {"--paper", NULL, "WORD", "letter or a4", " plan sketch replan rack ", WORD, PLACE(paper), 0, 0, " letter a4 "},
    {"--pages", NULL, "WORD", "write every page of the packet as a drawing too: svg or png", " plan replan ", WORD, PLACE(pages), 0, 0, " svg png "},
    {"--story-stick", NULL, NULL, "add full-scale sticks to the packet", " plan replan ", FLAG, PLACE(story_stick), 0, 0, NULL},
    {"--labels", NULL, NULL, "add a sheet of labels to the packet", " plan replan ", FLAG, PLACE(labels), 0, 0, NULL},
    {"--label-sheet", NULL, "SIZES", "adhesive labels: left,top,width,height,across,down,columns,rows", " plan replan rack ", WORD,
     PLACE(label_sheet), 0, 0, NULL},
    {"--leeway", NULL, NULL, "let box heights and slides give within the rules where that saves a sheet", " layout buy plan replan ", FLAG, PLACE(leeway), 0, 0, NULL},
    {"--keep", NULL, "PATH", "with --leeway: a case, bank or drawer that is to stay as it is", " layout buy plan replan ", KEEP, 0, 0, 0, NULL},
    {"--rack", NULL, NULL, "use the offcuts of the rack where that saves money or material", PLANNING, FLAG, PLACE(rack), 0, 0, NULL},
    {"--rack-file", NULL, "FILE", "the rack's ledger (rack.db beside the job, or in this folder)", " layout buy plan compare rack post done spoiled damaged measured note undo state replan ", WORD, PLACE(rack_file), 0, 0, NULL},
    {"--units", NULL, "WORD", "of bare numbers: in (usual) or mm", " rack compare damaged measured state ", WORD, PLACE(units), 0, 0, " in mm "},
    {"--worth", NULL, "AMOUNT", "what an added offcut is worth", " rack ", WORD, PLACE(worth), 0, 0, NULL},
    {"--note", NULL, "WORDS", "where it came from, or what it is taken for; words beside a mark", " rack done spoiled damaged measured ", WORD, PLACE(note), 0, 0, NULL},
    {"--grain-across", NULL, NULL, "the grain of an added offcut runs along its width", " rack ", FLAG, PLACE(grain_across), 0, 0, NULL},
    {"--port", NULL, "N", "serve on this port instead of a free one", " page ", NUMBER, PLACE(port), 1024, 65535, NULL},
    {"--no-browser", NULL, NULL, "print the address only", " page ", FLAG, PLACE(no_browser), 0, 0, NULL},
    {"--quiet", "-q", NULL, "no progress, no warnings on the terminal", "", FLAG, PLACE(quiet), 0, 0, NULL},
    {"--help", "-h", NULL, "this help", "", FLAG, PLACE(help), 0, 0, NULL},
};

static const struct {
    enum dw_status status;
    const char *meaning;
} exits_table[] = {
    {DW_DONE, "done (warnings may have been printed)"},
    {DW_IMPOSSIBLE, "the job cannot be done as asked"},
    {DW_INPUT, "the call or the job file is wrong"},
    {DW_SURROUNDINGS, "a file or memory failed"},
    {DW_PROGRAM, "a fault of the program itself"},
};

static bool has_word(const char *words, const char *word)
{
    const size_t length = strlen(word);
    for (const char *at = strstr(words, word); at != NULL; at = strstr(at + 1, word))
        if (at > words && at[-1] == ' ' && at[length] == ' ')
            return length > 0;
    return false;
}

static bool knows(const struct cli_command *command, const struct option *option)
{
    return option->commands[0] == '\0' || has_word(option->commands, command->name);
}

static bool complain_in_the_end(const struct cli_command *command)
{
    fprintf(stderr, "Try: drawerwright %s --help\n", command->name);
    return false;
}

static bool complain(const struct cli_command *command, const char *wrong, const char *word)
{
    fprintf(stderr, "drawerwright %s: %s%s%s\n", command->name, wrong, word[0] == '\0' ? "" : " ", word);
    return complain_in_the_end(command);
}

/* "--patience takes short, coffee or lunch, not tea" */
static bool complain_of_word(const struct cli_command *command, const struct option *option, const char *value)
{
    char words[128] = "";
    size_t length = 0;
    for (const char *at = option->words + 1; *at != '\0';) {
        const int size = (int)strcspn(at, " ");
        const char *behind = at + size + 1;
        const char *lead = length == 0 ? "" : *behind == '\0' ? " or " : ", ";
        length += (size_t)snprintf(words + length, sizeof words - length, "%s%.*s", lead, size, at);
        at = behind;
    }
    fprintf(stderr, "drawerwright %s: %s takes %s, not %s\n", command->name, option->name, words, value);
    return complain_in_the_end(command);
}

static bool complain_of_number(const struct cli_command *command, const struct option *option, const char *value)
{
    fprintf(stderr, "drawerwright %s: %s takes a whole number from %lld to %lld, not %s\n", command->name, option->name, (long long)option->least,
            (long long)option->most, value);
    return complain_in_the_end(command);
}

static const struct option *find_option(const struct cli_command *command, const char *word, size_t length)
{
    for (size_t i = 0; i < sizeof options_table / sizeof *options_table; i++) {
        const struct option *option = &options_table[i];
        const bool same = strlen(option->name) == length && strncmp(option->name, word, length) == 0;
        const bool short_same = option->short_name != NULL && strlen(option->short_name) == length &&
                                strncmp(option->short_name, word, length) == 0;
        if ((same || short_same) && knows(command, option))
            return option;
    }
    return NULL;
}

static bool read_number(const char *text, const struct option *option, int64_t *number)
{
    char *end = NULL;
    const long long value = strtoll(text, &end, 10);
    *number = value;
    return end != text && *end == '\0' && value >= option->least && value <= option->most;
}

/* Puts an option's value in its place. */
static bool take(const struct cli_command *command, const struct option *option, const char *value, struct cli_options *options)
{
    char *place = (char *)options + option->offset;
    switch (option->kind) {
    case FLAG:
        *(bool *)(void *)place = true;
        return true;
    case WORD:
        *(const char **)(void *)place = value;
        if (option->words != NULL && !has_word(option->words, value))
            return complain_of_word(command, option, value);
        return true;
    case NUMBER:
        if (!read_number(value, option, (int64_t *)(void *)place))
            return complain_of_number(command, option, value);
        return true;
    case SETTING:
        if (strchr(value, '=') == NULL)
            return complain(command, "--set wants PLACE=VALUE, not", value);
        if (options->setting_count == CLI_MOST_SETTINGS)
            return complain(command, "too many --set", "");
        options->settings[options->setting_count++] = value;
        return true;
    case KEEP:
        if (options->keep_count == CLI_MOST_SETTINGS)
            return complain(command, "too many --keep", "");
        options->keep[options->keep_count++] = value;
        return true;
    }
    return false;
}

/* One option word at argv[*at]; moves *at past what it took. */
static bool read_option(const struct cli_command *command, int argc, char **argv, int *at, struct cli_options *options)
{
    const char *word = argv[*at];
    const size_t length = strncmp(word, "--", 2) == 0 ? strcspn(word, "=") : strlen(word);
    const struct option *option = find_option(command, word, length);
    if (option == NULL)
        return complain(command, "there is no option", word);
    ++*at;
    if (option->argument == NULL)
        return word[length] == '\0' ? take(command, option, "", options) : complain(command, "takes no value:", option->name);
    if (word[length] == '=')
        return take(command, option, word + length + 1, options);
    if (*at >= argc)
        return complain(command, "a value is wanted behind", option->name);
    return take(command, option, argv[(*at)++], options);
}

static bool add_file(const struct cli_command *command, const char *file, struct cli_options *options)
{
    if (options->file_count == CLI_MOST_FILES)
        return complain(command, "too many files", "");
    options->files[options->file_count++] = file;
    return true;
}

bool cli_options_read(const struct cli_command *command, int argc, char **argv, struct cli_options *options)
{
    *options = (struct cli_options){.threads = 2};
    bool only_files = false;
    for (int at = 0; at < argc;) {
        const char *word = argv[at];
        if (!only_files && strcmp(word, "--") == 0) {
            only_files = true;
            at++;
        } else if (!only_files && word[0] == '-' && word[1] != '\0') {
            if (!read_option(command, argc, argv, &at, options))
                return false;
        } else if (!add_file(command, argv[at++], options)) {
            return false;
        }
    }
    if (options->help)
        return true;
    if (options->file_count < command->files_least)
        return complain(command, "a file is wanted:", command->arguments);
    if (options->file_count > command->files_most)
        return complain(command, "too many files: it takes", command->arguments);
    return true;
}

static void print_option(const struct option *option)
{
    char head[48];
    (void)snprintf(head, sizeof head, "%s%s%s%s%s", option->short_name == NULL ? "" : option->short_name,
                   option->short_name == NULL ? "" : ", ", option->name, option->argument == NULL ? "" : " ",
                   option->argument == NULL ? "" : option->argument);
    printf("  %-22s %s\n", head, option->help);
}

static void print_exits(void)
{
    puts("\nExit status:");
    for (size_t i = 0; i < sizeof exits_table / sizeof *exits_table; i++)
        printf("  %d  %s\n", (int)exits_table[i].status, exits_table[i].meaning);
}

static void program_help(void)
{
    puts("drawerwright: from drawer openings to a cutting plan\n");
    puts("Usage: drawerwright COMMAND [OPTIONS] JOB\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        printf("  %-8s %-32s %s\n", command->name, command->arguments, command->help);
    puts("\nJOB is a job file (see docs/job.md). drawerwright COMMAND --help tells more.");
    print_exits();
    puts("\nExample: drawerwright plan samples/plan-chest.json -o packet");
}

void cli_help(const struct cli_command *command)
{
    if (command == NULL) {
        program_help();
        return;
    }
    printf("drawerwright %s: %s\n\nUsage: drawerwright %s [OPTIONS] %s\n\n", command->name, command->help, command->name,
           command->arguments);
    for (size_t i = 0; i < sizeof options_table / sizeof *options_table; i++)
        if (knows(command, &options_table[i]))
            print_option(&options_table[i]);
    print_exits();
}

bool cli_option_row(size_t index, struct cli_option_words *words)
{
    if (index >= sizeof options_table / sizeof *options_table)
        return false;
    const struct option *option = &options_table[index];
    *words = (struct cli_option_words){.name = option->name, .short_name = option->short_name, .argument = option->argument, .help = option->help,
                                       .choices = option->words};
    return true;
}

bool cli_option_is_for(size_t index, const struct cli_command *command)
{
    return knows(command, &options_table[index]);
}

bool cli_exit_row(size_t index, int *status, const char **meaning)
{
    if (index >= sizeof exits_table / sizeof *exits_table)
        return false;
    *status = (int)exits_table[index].status;
    *meaning = exits_table[index].meaning;
    return true;
}
