/* cmd_manual.c - the manual pages drawerwright(1) and drawerwright-job(5), and the completions of shells, made from the tables that also make --help and
 * read the job file. So none of them can be out of step. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

/* ---- roff ---------------------------------------------------------------------------------------------------- */

static void add_title(struct dw_text *out, const char *name, int section, const char *about)
{
    dw_text_addf(out, ".TH %s %d \"\" \"drawerwright %s\"\n.SH NAME\n", name, section, DW_VERSION);
    cli_roff_add(out, name);
    dw_text_add(out, " \\- ");
    cli_roff_add(out, about);
    dw_text_add_char(out, '\n');
}

static void add_tagged(struct dw_text *out, const char *tag, const char *words)
{
    dw_text_add(out, ".TP\n\\fB");
    cli_roff_add(out, tag);
    dw_text_add(out, "\\fR\n");
    cli_roff_add(out, words);
    dw_text_add_char(out, '\n');
}

static void add_commands(struct dw_text *out)
{
    dw_text_add(out, ".SH COMMANDS\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        add_tagged(out, dw_arena_format(out->arena, "%s %s", command->name, command->arguments), command->help);
}

/* The commands that know an option: "plan, sketch"; "all" where every one does. */
static const char *known_by(struct dw_arena *arena, size_t option)
{
    struct dw_text text = dw_text_in(arena);
    bool all = true;
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++) {
        if (cli_option_is_for(option, command))
            dw_text_addf(&text, "%s%s", text.length == 0 ? "" : ", ", command->name);
        else
            all = false;
    }
    return all ? "all commands" : text.bytes;
}

static void add_options(struct dw_text *out)
{
    struct cli_option_words words;
    dw_text_add(out, ".SH OPTIONS\n");
    for (size_t i = 0; cli_option_row(i, &words); i++) {
        const char *lead = words.short_name == NULL ? "" : dw_arena_format(out->arena, "%s, ", words.short_name);
        const char *tag = dw_arena_format(out->arena, "%s%s%s%s", lead, words.name, words.argument == NULL ? "" : " ", words.argument == NULL ? "" : words.argument);
        add_tagged(out, tag, dw_arena_format(out->arena, "%s (%s)", words.help, known_by(out->arena, i)));
    }
}

static void add_exits(struct dw_text *out)
{
    int status = 0;
    const char *meaning = NULL;
    dw_text_add(out, ".SH EXIT STATUS\n");
    for (size_t i = 0; cli_exit_row(i, &status, &meaning); i++)
        add_tagged(out, dw_arena_format(out->arena, "%d", status), meaning);
}

static void write_program(struct dw_text *out)
{
    add_title(out, "drawerwright", 1, "from drawer openings to a cutting plan");
    dw_text_add(out, ".SH SYNOPSIS\n.B drawerwright\n.I COMMAND\n[\\fIOPTIONS\\fR] \\fIJOB\\fR\n.SH DESCRIPTION\n"
                     "Takes the openings of cases and the way the fronts are to fit, and answers with fronts and boxes, parts, sheet layouts with the order of cuts,\n"
                     "what to buy, the cost, and a packet of drawings. The job file is described in\n.BR drawerwright\\-job (5).\n");
    add_commands(out);
    add_options(out);
    add_exits(out);
    dw_text_add(out, ".SH SAFETY\nSaws, dust and tall cases can hurt people. The saw's manual, local codes and licensed practice come first.\n"
                     ".SH SEE ALSO\n.BR drawerwright\\-job (5)\n");
}

static void write_job(struct dw_text *out)
{
    struct dw_text reference = dw_text_in(out->arena);
    dw_job_reference(&reference);
    add_title(out, "drawerwright-job", 5, "the job file of drawerwright");
    cli_roff_add_markdown(out, reference.bytes);
    dw_text_add(out, ".SH SEE ALSO\n.BR drawerwright (1)\n");
}

/* ---- completions ---------------------------------------------------------------------------------------------- */

static void write_bash(struct dw_text *out)
{
    struct cli_option_words words;
    dw_text_add(out, "# bash completion for drawerwright\n_drawerwright()\n{\n    local word=${COMP_WORDS[COMP_CWORD]} options=\n    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                     "        COMPREPLY=($(compgen -W \"");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        dw_text_addf(out, "%s ", command->name);
    dw_text_add(out, "--help --version\" -- \"$word\"))\n        return\n    fi\n    case ${COMP_WORDS[1]} in\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++) {
        dw_text_addf(out, "        %s) options=\"", command->name);
        for (size_t i = 0; cli_option_row(i, &words); i++)
            if (cli_option_is_for(i, command))
                dw_text_addf(out, "%s ", words.name);
        dw_text_add(out, "\" ;;\n");
    }
    dw_text_add(out, "    esac\n    case $word in\n        -*) COMPREPLY=($(compgen -W \"$options\" -- \"$word\")) ;;\n        *) COMPREPLY=($(compgen -f -- \"$word\")) ;;\n    esac\n}\n"
                     "complete -o filenames -F _drawerwright drawerwright\n");
}

static void write_zsh(struct dw_text *out)
{
    struct cli_option_words words;
    dw_text_add(out, "#compdef drawerwright\nlocal -a commands\ncommands=(\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        dw_text_addf(out, "    '%s:%s'\n", command->name, command->help);
    dw_text_add(out, ")\nif (( CURRENT == 2 )); then\n    _describe 'command' commands\n    return\nfi\ncase $words[2] in\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++) {
        dw_text_addf(out, "    %s) _arguments '*:file:_files'", command->name);
        for (size_t i = 0; cli_option_row(i, &words); i++)
            if (cli_option_is_for(i, command))
                dw_text_addf(out, " '%s%s'", words.name, words.argument == NULL ? "" : ":value:_files");
        dw_text_add(out, " ;;\n");
    }
    dw_text_add(out, "esac\n");
}

static void write_fish(struct dw_text *out)
{
    struct cli_option_words words;
    dw_text_add(out, "# fish completion for drawerwright\n");
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        dw_text_addf(out, "complete -c drawerwright -n __fish_use_subcommand -f -a %s -d \"%s\"\n", command->name, command->help);
    for (const struct cli_command *command = cli_commands; command->name != NULL; command++)
        for (size_t i = 0; cli_option_row(i, &words); i++)
            if (cli_option_is_for(i, command))
                dw_text_addf(out, "complete -c drawerwright -n '__fish_seen_subcommand_from %s' -l %s%s\n", command->name, words.name + 2,
                             words.argument == NULL ? "" : " -r");
}

/* ---- the command ----------------------------------------------------------------------------------------------- */

static const struct {
    const char *word;
    void (*write)(struct dw_text *out);
} manuals[] = {{"program", write_program}, {"job", write_job}, {"bash", write_bash}, {"zsh", write_zsh}, {"fish", write_fish}};

struct writing {
    struct dw_arena *arena;
    void (*write)(struct dw_text *out);
};

static void write_body(void *context)
{
    const struct writing *writing = context;
    struct dw_text out = dw_text_in(writing->arena);
    writing->write(&out);
    (void)fwrite(out.bytes, 1, out.length, stdout);
}

enum dw_status cmd_manual(const struct cli_options *options)
{
    struct writing writing = {.write = NULL};
    for (size_t i = 0; i < sizeof manuals / sizeof *manuals; i++)
        if (strcmp(options->files[0], manuals[i].word) == 0)
            writing.write = manuals[i].write;
    if (writing.write == NULL) {
        fputs("drawerwright manual: wants one of: program, job, bash, zsh, fish\nTry: drawerwright manual --help\n", stderr);
        return DW_INPUT;
    }
    writing.arena = dw_arena_new();
    const bool whole = writing.arena != NULL && dw_arena_guard(writing.arena, write_body, &writing);
    dw_arena_free(writing.arena);
    if (!whole)
        fputs("drawerwright: error: memory ran out\n", stderr);
    return whole ? DW_DONE : DW_SURROUNDINGS;
}
