// seatwright: words in, tables, JSON or papers out. Only the parsing of words is here; see commands.hpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <cstdio>

#include "cli/commands.hpp"
#include "cli/manual.hpp"
#include "seatwright/base/version.hpp"
#include "server/serve.hpp"

namespace {

using seatwright::LengthUnit;
using seatwright::cli::Asked;

void add_job(CLI::App* command, Asked& asked) {
    command->add_option("JOB", asked.job, "the job file (TOML)")->required();
}

void add_units(CLI::App* command, Asked& asked) {
    const std::map<std::string, LengthUnit> names{{"in", LengthUnit::inch}, {"mm", LengthUnit::mm}};
    command
        ->add_option_function<std::string>(
            "--units", [&asked, names](const std::string& name) { asked.unit = names.at(name); },
            "lengths in tables and papers: in or mm (the job's own if not given); JSON is always mm")
        ->check(CLI::IsMember({"in", "mm"}));
}

void add_head(CLI::App* command, Asked& asked) {
    command->add_option("--head", asked.head, "use the readings of this head");
}

void add_papers(CLI::App* command, Asked& asked) {
    command->add_option("--out", asked.out, "folder for the papers; made if absent, never emptied");
    command
        ->add_option_function<std::string>(
            "--paper",
            [&asked](const std::string& name) {
                asked.paper = name == "letter" ? seatwright::papers::letter : seatwright::papers::a4;
            },
            "a4 (the default) or letter")
        ->check(CLI::IsMember({"a4", "letter"}));
}

void add_selection(CLI::App* command, Asked& asked) {
    auto* only = command->add_option("--only", asked.selection.only,
                                     "programs for these valves alone, with commas between them: 3I,4I");
    only->delimiter(',');
    auto* from = command->add_option_function<std::string>(
        "--from", [&asked](const std::string& valve) { asked.selection.from = valve; },
        "a blade broke at this valve: programs from it on, for a new blade");
    only->excludes(from);
    command->add_flag_function(
        "--draft", [&asked](std::int64_t) { asked.selection.writes = seatwright::job::Writes::draft; },
        "write what is held back too, for looking and simulation: such a program ends before it begins");
}

void add_batch(CLI::App* command, Asked& asked) {
    constexpr int most_heads = 10'000;
    command->add_option("--heads", asked.batch.heads, "heads of the batch")->check(CLI::Range(1, most_heads));
    constexpr std::uint64_t most_draws = 1'000'000'000;
    auto* draws = command
                      ->add_option("--draws", asked.batch.draws,
                                   "heads drawn one by one; without it the batch is integrated")
                      ->check(CLI::Range(std::uint64_t{1}, most_draws));
    command->add_option("--seed", asked.batch.seed, "of the drawing: the same seed gives the same figures")
        ->needs(draws)
        ->capture_default_str();
    command->add_option("--threads", asked.batch.threads, "that draw; changes no figure")
        ->check(CLI::Range(1, 64));
}

void add_made_job(CLI::App* command, Asked& asked) {
    command
        ->add_option("--out", asked.out,
                     "the job file to write; one that is there is left alone unless this made it")
        ->required();
    command->add_option("--over", asked.over,
                        "a job of the same head: laid over this one by the bolt holes, what differs is said");
    command->add_flag("--replace", asked.replace, "replace what stands at --out, whoever made it");
    command->add_flag("--json", asked.json, "JSON only, on standard output");
}

void add_drawing(CLI::App* command, Asked& asked) {
    command->add_option("FILE", asked.job, "the drawing (DXF, text or binary)")->required();
    add_made_job(command, asked);
    const std::map<std::string, LengthUnit> units{{"in", LengthUnit::inch}, {"mm", LengthUnit::mm}};
    command
        ->add_option_function<std::string>(
            "--units", [&asked, units](const std::string& name) { asked.drawn.units = units.at(name); },
            "the unit it is drawn in, where it does not say (or says it wrong): in or mm")
        ->check(CLI::IsMember({"in", "mm"}));
    command->add_flag("--from-above", asked.drawn.from_above,
                      "it is drawn as seen from the cams' side, not from the deck's");
    command->add_flag("--end-for-end", asked.drawn.end_for_end, "the first cylinder is at its right end");
    command
        ->add_option_function<std::vector<std::string>>(
            "--name",
            [&asked](const std::vector<std::string>& all) {
                for (const auto& one : all) {
                    const auto is = one.find('=');
                    const auto what = is == std::string::npos ? "" : one.substr(is + 1);
                    const auto known = {"valve", "intake", "exhaust", "bolt", "plug", "other"};
                    if (is == 0 || std::find(known.begin(), known.end(), what) == known.end())
                        throw CLI::ValidationError("--name " + one,
                                                   "wanted GROUP=WHAT, such as A=bolt; WHAT is valve, "
                                                   "intake, exhaust, bolt, plug or other");
                    asked.drawn.names[one.substr(0, is)] = what;
                }
            },
            "what a group of circles is: A=intake (valve, intake, exhaust, bolt, plug or other); may be "
            "repeated")
        ->type_name("GROUP=WHAT");
}

void add_scan(CLI::App* command, Asked& asked) {
    command->add_option("FILE", asked.job, "the measured surface (STL, PLY, OBJ or lines of x y z)")
        ->required();
    add_made_job(command, asked);
    const std::map<std::string, LengthUnit> units{{"in", LengthUnit::inch}, {"mm", LengthUnit::mm}};
    command
        ->add_option_function<std::string>(
            "--units", [&asked, units](const std::string& name) { asked.scanned.units = units.at(name); },
            "the unit of the file, which none of these formats says; inferred from its size where left out")
        ->check(CLI::IsMember({"in", "mm"}));
    command->add_flag("--end-for-end", asked.scanned.end_for_end, "the first cylinder is at the other end");
    command
        ->add_option("--picture", asked.picture,
                     "draws what was found over its points, and what was not found: a file .svg or .pdf")
        ->check([](const std::string& name) {
            return name.ends_with(".svg") || name.ends_with(".pdf")
                       ? std::string()
                       : "the picture is a file .svg or .pdf, not " + name;
        });
}

std::string names_of_commands(const CLI::App& app) {
    std::vector<std::string> names;
    for (const auto* command : app.get_subcommands(nullptr)) names.push_back(command->get_name());
    return fmt::format("{}", fmt::join(names, ", "));
}

// What is wrong with the words on the command line, in a sentence of ours where the library's says too
// little.
std::string what_is_wrong(const CLI::App& app, const CLI::ParseError& wrong, int argc, char** argv) {
    if (!app.get_subcommands().empty()) return wrong.what();
    const std::string first = argc > 1 ? argv[1] : "";
    if (first.empty()) return "name a command: " + names_of_commands(app);
    if (first.starts_with('-')) return wrong.what();
    return fmt::format("'{}' is not a command; there are {}", first, names_of_commands(app));
}

}  // namespace

int main(int argc, char** argv) {
    using namespace seatwright;
    std::signal(SIGPIPE, SIG_IGN);
    std::signal(SIGXFSZ, SIG_IGN);  // a file-size limit is a write that fails, and told as one
    CLI::App app{"Seatwright: valve-seat machining worked out beforehand, and proven afterwards.",
                 "seatwright"};
    app.set_version_flag("--version", version);
    app.require_subcommand(1);
    Asked asked;
    bool reference = false, keys = false;

    auto* check =
        app.add_subcommand("check", "read a job and its shop file, report every fault, plan nothing");
    auto* job = check->add_option("JOB", asked.job, "the job file (TOML)");
    check->add_flag("--reference", reference, "print all keys of a job file instead")->excludes(job);
    check->add_flag("--keys", keys, "print all keys and units as JSON instead")->excludes(job);

    const std::pair<const char*, const char*> stages[] = {
        {"hold", "how the head must sit: setups, tilt, swing, posts, safety"},
        {"find", "where every guide is, how sure that is, which to touch next"},
        {"shape", "the section and depth of every seat, the cutter, inserts"},
        {"cut", "speeds, feeds, order, time and the checked programs"},
        {"prove", "runout and verdicts after cutting, and the batch"}};
    for (const auto& [name, about] : stages) {
        auto* command = app.add_subcommand(name, about);
        add_job(command, asked);
        add_head(command, asked);
        add_units(command, asked);
        command->add_flag("--json", asked.json, "JSON only, on standard output");
        if (std::string_view(name) == "cut") add_selection(command, asked);
    }
    auto* plan = app.add_subcommand("plan", "hold, find, shape and cut, with papers to tape to the machine");
    auto* certify = app.add_subcommand("certify", "prove, with the certificate");
    add_selection(plan, asked);
    for (auto* command : {plan, certify}) {
        add_job(command, asked);
        add_head(command, asked);
        add_units(command, asked);
        add_papers(command, asked);
        command->add_flag("--json", asked.json, "JSON only, on standard output");
    }

    auto* forecast =
        app.add_subcommand("forecast", "how many heads of a batch will pass, why not, what to change first");
    add_job(forecast, asked);
    add_units(forecast, asked);
    add_batch(forecast, asked);
    add_papers(forecast, asked);
    forecast->add_flag("--json", asked.json, "JSON only, on standard output");

    auto* survey = app.add_subcommand("survey", "readings taken at the machine to a job file");
    survey->add_option("READINGS", asked.job, "the file of readings (TOML, docs/survey.md)")->required();
    add_made_job(survey, asked);
    add_units(survey, asked);

    auto* drawing = app.add_subcommand("drawing", "a DXF drawing of a head's deck to a job file");
    add_drawing(drawing, asked);

    auto* scan = app.add_subcommand("scan", "a measured surface of a head to a job file");
    add_scan(scan, asked);

    auto* casting =
        app.add_subcommand("casting", "what a job's heads have taught of their casting, to one file");
    add_job(casting, asked);
    casting->add_option("--out", asked.out, "the file to write")->required();
    casting->add_flag("--replace", asked.replace, "replace what stands at --out, whoever made it");
    casting->add_flag("--json", asked.json, "JSON only, on standard output");

    server::ServeOptions serving;
    std::string data = serving.data, from, until;
    auto* serve = app.add_subcommand("serve", "the workbench: the whole job in a browser");
    serve
        ->add_option(
            "--data", serving.data,
            "folder of jobs and readings, made if absent; or a database, postgresql://USER@HOST/DATABASE")
        ->take_last()
        ->capture_default_str();
    serve->add_option("--shop", serving.shop, "whose data, of a database server that holds several shops'")
        ->capture_default_str();
    serve->add_option("--port", serving.port, "port; 0 = any free one")
        ->check(CLI::Range(0, 65535))
        ->capture_default_str();
    serve->add_option("--listen", serving.listen,
                      "address to listen on, for other machines of the shop (needs accounts); loopback only "
                      "if not given");
    auto* certificate = serve->add_option("--certificate", serving.certificate, "TLS certificate (PEM)");
    auto* key = serve->add_option("--key", serving.key, "its private key (PEM)");
    certificate->needs(key);
    key->needs(certificate);
    serve->add_option(
        "--name", serving.names,
        "with --listen: another name or address of this machine its own certificate is to hold");
    serve
        ->add_option("--trust-port", serving.trust_port,
                     "port of the open page that serves the root certificate (the next one if not given)")
        ->check(CLI::Range(0, 65535));
    serve->add_flag("--unencrypted", serving.unencrypted,
                    "with --listen: no TLS at all; passwords and readings cross the network in the open");
    serve->add_option("--as", serving.as, "for root: serve as that user, to whom the data then belongs");
    serve->add_option("--backups", serving.backups,
                      "folder, best on another disk, into which a checked backup is made each night");
    serve
        ->add_option(
            "--metrics-port", serving.metrics_port,
            "port on this machine alone with counts for a program that watches (text form of Prometheus)")
        ->check(CLI::Range(0, 65535));
    serve->add_flag("--log-lines", serving.log_lines,
                    "log as lines of JSON, one for each answer, without names or readings");
    serve->add_flag("--behind-proxy", serving.behind_proxy, "a proxy in front speaks TLS");
    serve->add_flag("--open", serving.open_page, "open the page in the desktop's browser");
    std::string tables, role;
    auto* migrate = app.add_subcommand(
        "migrate", "make the tables of a database server, or bring them up to date, as their owner");
    migrate->add_option("--data", tables, "the database, postgresql://OWNER@HOST/DATABASE")->required();
    migrate->add_option("--server", role, "the role that workbenches are served with; it owns nothing")
        ->required();
    auto* backup =
        app.add_subcommand("backup", "copy the workbench's data into one file, also while it runs");
    backup->add_option("--data", data, "folder of jobs and readings")->capture_default_str();
    backup->add_option("--out", asked.out, "the file to write; must not exist")->required();
    std::string customer;
    auto* everything = app.add_subcommand(
        "export", "write everything of the shop, or of one customer, as plain files into one tar");
    everything->add_option("--data", serving.data, "folder of jobs and readings, or postgresql://…")
        ->capture_default_str();
    everything->add_option("--shop", serving.shop, "whose data, of a database server")->capture_default_str();
    everything->add_option("--out", asked.out, "the file to write; must not exist")->required();
    everything->add_option("--customer", customer, "everything of this customer alone");
    auto* restore =
        app.add_subcommand("restore", "put a backup into an empty data folder, and check it there");
    restore->add_option("--from", from, "the backup")->required();
    restore->add_option("--data", data, "folder of jobs and readings; must hold none")->capture_default_str();
    restore->add_option("--until", until,
                        "only what was recorded until then: 2026-11-28 14:30 (this machine's time), or "
                        "2026-11-28T14:30:05Z (UTC)");

    bool manual = false;
    app.add_flag("--manual", manual, "print this program's manual page (roff) and exit");
    if (argc == 2 && std::string_view(argv[1]) == "--manual") {
        fmt::print("{}", cli::manual(app));
        return std::fflush(stdout) == 0 ? cli::exit_done : cli::exit_input;
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& wrong) {
        if (wrong.get_exit_code() == 0) return app.exit(wrong);
        fmt::print(stderr, "seatwright: {}; see seatwright --help\n", what_is_wrong(app, wrong, argc, argv));
        return cli::exit_input;
    }

    try {
        int status = cli::exit_ours;
        if (check->parsed()) {
            if (reference)
                status = cli::reference();
            else if (keys)
                status = cli::keys();
            else if (asked.job.empty()) {
                fmt::print(stderr, "seatwright check: name a job file, or ask for --reference or --keys\n");
                status = cli::exit_input;
            } else
                status = cli::check(asked);
        }
        for (const auto& [name, about] : stages)
            if (app.got_subcommand(name)) status = cli::stage(name, asked);
        if (plan->parsed()) status = cli::plan(asked);
        if (certify->parsed()) status = cli::certify(asked);
        if (forecast->parsed()) status = cli::forecast(asked);
        if (survey->parsed()) status = cli::survey(asked);
        if (casting->parsed()) status = cli::casting(asked);
        if (drawing->parsed()) status = cli::drawing(asked);
        if (scan->parsed()) status = cli::scan(asked);
        if (serve->parsed()) status = server::serve(serving);
        if (migrate->parsed()) status = server::migrate_data(tables, role);
        if (backup->parsed()) status = server::backup_data(data, asked.out);
        if (everything->parsed()) status = server::export_data(serving, asked.out, customer);
        if (restore->parsed()) status = server::restore_data(from, data, until);
        if (std::fflush(stdout) != 0 || std::ferror(stdout)) {
            fmt::print(stderr,
                       "seatwright: standard output could not be written (the disk is full, or it was closed "
                       "or its reader stopped)\n");
            return cli::exit_input;
        }
        return status;
    } catch (const std::exception& broken) {
        fmt::print(stderr, "seatwright: our own error, please report it: {}\n", broken.what());
        return cli::exit_ours;
    }
}
