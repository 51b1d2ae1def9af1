#include "server/serve.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <pthread.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>

#include "seatwright/base/progress_line.hpp"
#include "seatwright/store/backup_folder.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/passwords.hpp"
#include "seatwright/store/photographs.hpp"
#include "seatwright/store/server_address.hpp"
#include "seatwright/store/server_setup.hpp"
#include "seatwright/words/english_server.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/answers/administration.hpp"
#include "server/answers/store_json.hpp"
#include "server/command_end.hpp"
#include "server/http/log_lines.hpp"
#include "server/http/own_certificate.hpp"
#include "server/http/trust_page.hpp"
#include "server/http_server.hpp"
#include "server/intake/examples.hpp"
#include "server/step_down.hpp"
#include "server/upkeep.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;

constexpr const char* lock_name = "serving.lock";
constexpr long long most_shops = 1'000'000;

// One server at a time on a folder: the screens of one would not hear what is entered at the other. The lock
// goes with the process, also when it is killed.
class FolderLock {
  public:
    explicit FolderLock(const std::string& folder)
        : handle_(::open((fs::path(folder) / lock_name).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600)) {
        if (handle_ < 0) throw BadOption(folder + ": cannot be written to");
        if (::flock(handle_, LOCK_EX | LOCK_NB) != 0) {
            ::close(handle_);
            throw BadOption(folder + ": another workbench is running on this folder");
        }
    }
    ~FolderLock() { ::close(handle_); }
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;

  private:
    int handle_;
};

// Whether the folder is ours alone: made here, empty, or with our data.
bool make_folder(const std::string& folder) {
    std::error_code failed;
    if (fs::exists(folder, failed) && !fs::is_directory(folder, failed))
        throw BadOption(folder + ": is not a folder; the workbench keeps its data in one");
    const bool made = fs::create_directories(folder, failed);
    if (failed) throw BadOption(fmt::format("{}: cannot be made: {}", folder, failed.message()));
    // A folder of ours from before is closed too; one with other things in it is not ours to close.
    const bool ours =
        made || fs::is_empty(folder, failed) || fs::exists(store::database_file(folder), failed);
    if (ours) fs::permissions(folder, fs::perms::owner_all, failed);
    return ours;
}

bool is_loopback(const std::string& address) {
    return address.empty() || address == "127.0.0.1" || address == "localhost" || address == "::1";
}

// Whether other machines reach it: 127.0.0.0/8 and ::1 are this one's own (RFC 1122, 3.2.1.3; RFC
// 4291, 2.5.3).
bool others_reach(const std::string& address) {
    return !is_loopback(address) && !address.starts_with("127.");
}

// Certificates of its own: on the network, unless a person said otherwise.
bool speaks_own_tls(const ServeOptions& options) {
    return !is_loopback(options.listen) && options.certificate.empty() && !options.behind_proxy &&
           !options.unencrypted;
}

bool speaks_tls(const ServeOptions& options) {
    return !options.certificate.empty() || speaks_own_tls(options);
}

// Empty: there is none to keep certificates of its own in.
std::string tls_folder(const ServeOptions& options) {
    const bool server = store::is_server_url(options.data);
    const std::string folder = server ? store::LastDigests::service_folder() : options.data;
    return folder.empty() ? "" : (fs::path(folder) / "tls").string();
}

OwnCertificate own_tls(const ServeOptions& options) {
    auto names = network_names(options.listen);
    names.insert(names.end(), options.names.begin(), options.names.end());
    return own_certificate(tls_folder(options), names,
                           std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()));
}

WorkbenchOptions bench_options(const ServeOptions& options) {
    WorkbenchOptions bench;
    const bool tls = speaks_tls(options);
    bench.data = options.data;
    bench.backups = options.backups;
    bench.shop = options.shop;
    bench.access = {is_loopback(options.listen), tls || options.behind_proxy, options.behind_proxy};
    if (!bench.access.loopback && !tls && !options.behind_proxy) bench.warning = sentence<"unencrypted">();
    return bench;
}

void check_options(const ServeOptions& options) {
    if (::geteuid() == 0 && options.as.empty() && others_reach(options.listen))
        throw BadOption(
            "root does not open the workbench to the network: say --as USER, whose the data then are, or "
            "start it as that user (--as root if there is none other)");
    if (options.certificate.empty() != options.key.empty())
        throw BadOption("TLS needs both files: --certificate and --key");
    for (const auto& file : {options.certificate, options.key})
        if (!file.empty() && !fs::is_regular_file(file)) throw BadOption(file + ": there is no such file");
    if (options.unencrypted && (!options.certificate.empty() || options.behind_proxy))
        throw BadOption("--unencrypted contradicts --certificate and --behind-proxy: leave one out");
    if (!options.names.empty() && !speaks_own_tls(options))
        throw BadOption(
            "--name is for certificates the workbench makes itself: with --listen, without --certificate, "
            "--behind-proxy and --unencrypted");
    for (const auto& name : options.names)
        if (!can_be_certified(name))
            throw BadOption(
                fmt::format("--name: '{}' is neither a name of a machine (letters, digits, - and .) nor "
                            "an address",
                            name));
    std::error_code none;
    if (!options.backups.empty()) {
        if (fs::exists(options.backups, none) && !fs::is_directory(options.backups, none))
            throw BadOption(options.backups + ": is not a folder; backups go into one");
        if (fs::weakly_canonical(options.backups, none) == fs::weakly_canonical(options.data, none))
            throw BadOption("--backups is the data's own folder: say another, best on another disk");
        fs::create_directories(options.backups, none);
        if (::access(options.backups.c_str(), W_OK) != 0)
            throw BadOption(options.backups + ": cannot be written to; backups go there");
    }
    if (options.port < 0 || options.port > 65535) throw BadOption("a port is a number from 0 to 65535");
    const bool server = store::is_server_url(options.data);
    if (options.shop < 1 || options.shop > most_shops)
        throw BadOption(fmt::format("a shop is a number from 1 to {}", most_shops));
    if (!server && options.shop != 1)
        throw BadOption("a folder holds one shop's data; --shop is for a database server that holds several");
    if (speaks_own_tls(options) && tls_folder(options).empty())
        throw BadOption(
            "there is no folder to keep certificates of its own in: the service has one (STATE_DIRECTORY), "
            "else with a database server say --certificate and --key, --behind-proxy or --unencrypted");
    if (server && !options.backups.empty())
        throw BadOption("--backups is for data in a folder; a database server is saved by its own tools");
    if (const std::string fault = server ? store::fault_of_address(options.data) : ""; !fault.empty())
        throw BadOption("--data: " + fault);
}

// As people type it.
std::string served_address(const ServeOptions& options, bool tls, int port) {
    std::string host = options.listen;
    if (is_loopback(host) || host == "0.0.0.0" || host == "::") {
        host = "127.0.0.1";
        // The first of the machine's own that is no name: names are known on some networks only.
        if (!is_loopback(options.listen))
            for (const auto& name : network_names(options.listen))
                if (is_address(name) && name != host) {
                    host = name;
                    break;
                }
    }
    if (host.find(':') != std::string::npos) host = "[" + host + "]";
    return fmt::format("{}://{}:{}/", tls ? "https" : "http", host, port);
}

void say(const ServeOptions& options, Workbench& bench, int port) {
    const bool loopback = bench.access.rules().loopback;
    const bool tls = speaks_tls(options);
    const bool server = store::is_server_url(options.data);
    fmt::print("Workbench: {}\nData: {}\n", served_address(options, tls, port),
               server ? store::shown_address(options.data) : options.data);
    if (server) {
        fmt::print("Shop {}. Entries are acknowledged {}.\n", options.shop, acknowledged(bench));
        const std::string& last = bench.database.last().file();
        fmt::print("{}\n", last.empty() ? "What is acknowledged is not noted on this machine "
                                          "(STATE_DIRECTORY names no folder for it, or another server notes "
                                          "there): an older database in the place of this one is not noticed."
                                        : fmt::format("What is acknowledged is noted in {}.", last));
    }
    if (loopback)
        fmt::print("Only this machine can reach it.\n");
    else
        fmt::print(
            "THE NETWORK can reach it at {} port {}: everybody there sees the login page; only people with "
            "an account get in.\n",
            options.listen, port);
    if (!bench.warning.empty()) fmt::print("Warning: {}.\n", in_words(bench.warning, {}));
    if (::geteuid() == 0)
        fmt::print("Warning: it runs as root; start it with --as USER, or as somebody who may do less.\n");
    for (const auto& words : bench.record.damage()) fmt::print("Damaged: {}.\n", words);
    fmt::print("Stop with Ctrl-C.\n");
    std::fflush(stdout);
}

void open_in_desktop(const std::string& address) {
    // Whether a desktop is there is the desktop's business; the address has been printed.
    if (::fork() == 0) {
        ::execlp("xdg-open", "xdg-open", address.c_str(), static_cast<char*>(nullptr));
        ::_exit(1);
    }
}

// Data of an earlier day in the place of the newest: what people have been told is on record is not there.
void check_not_older(Workbench& bench) {
    const auto behind = bench.database.last().behind();
    if (behind.empty()) return;
    constexpr std::size_t shown_jobs = 5;
    std::vector<std::string> jobs;
    for (const auto& [job, words] : behind)
        if (jobs.size() < shown_jobs) jobs.push_back(words);
    const bool server = bench.database.dialect().is_server;
    throw BadOption(fmt::format(
        "{}: this is not the newest data: {}{}. {}. Only if that data is lost for good, move "
        "{} away: then what is here counts",
        shown(bench.database.place()), fmt::join(jobs, "; "),
        behind.size() > shown_jobs ? fmt::format("; and {} jobs more", behind.size() - shown_jobs) : "",
        server ? "An older copy of the database stands here, or a standby took over that had not heard of "
                 "the last commits: put the newest back"
               : "An older copy stands here, or its log (-wal) was deleted: put the newest back, or restore "
                 "the newest backup into an empty folder",
        bench.database.last().file()));
}

// Opens the data, with its schema brought up to date and a shelf in it.
std::unique_ptr<Workbench> open_bench(const ServeOptions& options) {
    const auto saved = store::back_up_before_migration(
        options.data, options.backups.empty() ? options.data : options.backups);
    if (!saved)
        throw BadOption(
            fmt::format("{}: the data are of an older program, and no backup can be made before they are "
                        "changed: {}",
                        options.data, saved.error().text));
    if (!saved->empty())
        fmt::print("The data are of an older program: a backup of them as they were is {}.\n", *saved);
    try {
        auto bench = std::make_unique<Workbench>(bench_options(options));
        check_not_older(*bench);
        bench->shelf.stock(default_shop());
        bench->record.start();
        return bench;
    } catch (const soci::soci_error& fault) {
        if (store::is_server_url(options.data))
            throw BadOption(store::why_not_opened(options.data, fault.get_error_message()));
        throw BadOption(
            fmt::format("{}: the data in this folder cannot be opened: {}; if it is damaged, move "
                        "it away and restore a backup",
                        options.data, fault.get_error_message()));
    } catch (const store::NewerData& newer) {
        throw BadOption(fmt::format("{}: {}", shown(options.data), newer.what()));
    } catch (const store::OlderData& older) {
        throw BadOption(fmt::format("{}: {}", shown(options.data), older.what()));
    } catch (const store::Unfit& unfit) {
        throw BadOption(fmt::format("{}: {}", shown(options.data), unfit.what()));
    }
}

// What root has started goes on as the user asked for; the data's files may be root's from before.
void step_down_if_asked(const ServeOptions& options, bool ours) {
    if (options.as.empty()) return;
    const std::string file = store::database_file(options.data);
    std::vector<std::string> own{(fs::path(options.data) / lock_name).string()};
    for (const std::string end : {"", "-wal", "-shm", "-journal", "-last"}) own.push_back(file + end);
    for (const auto& folder : {store::photographs_folder(options.data), tls_folder(options)}) {
        std::error_code none;
        for (const auto& one : fs::directory_iterator(folder, none)) own.push_back(one.path().string());
        own.push_back(folder);
    }
    if (ours) own.push_back(options.data);
    step_down(options.as, options.data, own);
    for (const auto& readable : {options.certificate, options.key})
        if (!readable.empty() && ::access(readable.c_str(), R_OK) != 0)
            throw BadOption(fmt::format("{}: {} cannot read it", readable, options.as));
}

int trust_port(const ServeOptions& options) {
    if (options.trust_port >= 0) return options.trust_port;
    return options.port == 0 ? 0 : options.port + 1;
}

void say_trust(const ServeOptions& options, const OwnCertificate& own, int port) {
    fmt::print(
        "{}Each tablet or PC takes the root certificate once from {} and compares its fingerprint:\n  {}\n",
        own.root_made ? "A root certificate was made. " : "", served_address(options, false, port),
        own.fingerprint);
}

void say_backups(Workbench& bench) {
    const auto now = bench.nightly.standing();
    if (bench.database.dialect().is_server) return;
    if (now.folder.empty())
        fmt::print("No nightly backups: say --backups with a folder on another disk.\n");
    else if (now.same_disk)
        fmt::print("Warning: {} is on the same disk as the data: when it fails, both are lost.\n",
                   now.folder);
}

std::vector<Upkeep::Task> tasks(const ServeOptions& options, Workbench& bench, HttpServer& server) {
    std::vector<Upkeep::Task> all;
    all.push_back({"backup", [&bench] { bench.nightly.tend(local_now()); }});
    if (speaks_own_tls(options))
        all.push_back({"certificate", [&options, &server] {
                           const OwnCertificate own = own_tls(options);
                           if (own.made) server.use_certificate(own.chain_file, own.key_file);
                       }});
    return all;
}

int run_server(const ServeOptions& options) {
    check_options(options);
    std::optional<FolderLock> lock;
    if (store::is_server_url(options.data)) {
        if (!options.as.empty()) step_down(options.as, "", {});
    } else {
        const bool ours = make_folder(options.data);
        step_down_if_asked(options, ours);
        lock.emplace(options.data);
    }
    store::start_sodium();
    // SIGINT and SIGTERM wait for sigwait below; threads started from here on inherit that.
    sigset_t signals;
    sigemptyset(&signals);
    sigaddset(&signals, SIGINT);
    sigaddset(&signals, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &signals, nullptr);

    const auto opened = open_bench(options);
    Workbench& bench = *opened;
    if (!bench.access.rules().loopback && bench.people.first_start())
        throw BadOption(
            "to listen on the network there must be accounts: start once without --listen, make the owner on "
            "this machine, then come back");
    std::optional<OwnCertificate> own;
    if (speaks_own_tls(options)) own = own_tls(options);
    HttpOptions http{options.listen.empty() ? "127.0.0.1" : options.listen, options.port,
                     own ? own->chain_file : options.certificate, own ? own->key_file : options.key};
    http.log_requests = options.log_lines;
    if (options.log_lines) log_as_lines();
    HttpServer server(bench, http);
    const std::string address = served_address(options, speaks_tls(options), server.port());
    std::optional<OpenPages> trust, metrics;
    if (own)
        trust.emplace(options.listen, trust_port(options), trust_pages(*own, address),
                      "only the root certificate is here; the workbench speaks https");
    if (options.metrics_port >= 0)
        metrics.emplace("127.0.0.1", options.metrics_port, metrics_pages(bench),
                        "what is measured of the workbench is at /metrics");
    say(options, bench, server.port());
    if (trust) say_trust(options, *own, trust->port());
    if (metrics) fmt::print("Metrics: http://127.0.0.1:{}/metrics\n", metrics->port());
    say_backups(bench);
    std::fflush(stdout);
    if (options.open_page) open_in_desktop(address);
    const Upkeep upkeep(tasks(options, bench, server));
    int signal = 0;
    sigwait(&signals, &signal);
    fmt::print("Stopping.\n");
    server.stop();
    return exit_done;
}

}  // namespace

int serve(const ServeOptions& options) {
    close_to_others();
    try {
        return run_server(options);
    } catch (const BadOption& fault) {
        fmt::print(stderr, "{}\n", fault.what());
        return exit_input;
    } catch (const CannotStepDown& fault) {
        fmt::print(stderr, "{}\n", fault.what());
        return exit_input;
    } catch (const CannotServe& fault) {
        fmt::print(stderr, "{}\n", fault.what());
        return exit_input;
    } catch (const std::exception& fault) {
        fmt::print(stderr, "seatwright: {}\n", fault.what());
        return exit_ours;
    }
}

int migrate_data(const std::string& url, const std::string& role) {
    if (!store::is_server_url(url)) {
        fmt::print(
            stderr,
            "{}: is no database server; the tables of a folder are brought up to date when it is served\n",
            url);
        return exit_input;
    }
    const auto step =
        with_progress_line("making the tables", [&] { return store::set_up_server(url, role); });
    if (!step) {
        fmt::print(stderr, "{}\n", step.error().text);
        return exit_input;
    }
    fmt::print("{}: the tables are at step {}, and {} may work on them\n", store::shown_address(url), *step,
               role);
    return exit_done;
}

}  // namespace seatwright::server
