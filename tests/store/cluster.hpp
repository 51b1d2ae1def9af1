// A PostgreSQL server of the test program's own: made at first use, in a folder of its own, heard on a socket
// there alone, with every commit flushed as in earnest; stopped by its process id at the end.
#pragma once

#include <fcntl.h>
#include <pwd.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/statvfs.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "folder.hpp"
#include "seatwright/store/dialect.hpp"
#include "seatwright/store/server_setup.hpp"

namespace seatwright::store {

class Cluster {
  public:
    // The program's one.
    static Cluster& shared() {
        static Cluster cluster;
        return cluster;
    }
    // Another one, in a folder that begins like that.
    explicit Cluster(const std::filesystem::path& where = room()) : folder_(where) {
        give_to_user();
        const int status = wait(run_as_user({"initdb", "-D", data(), "-A", "trust", "-U", "super", "-E",
                                             "UTF8", "--locale=C", "--no-sync", "--no-instructions"}));
        if (status != 0) throw std::runtime_error("initdb failed: " + log());
        start();
        run("postgres", "create role shop_owner login");
        run("postgres", "create role shop_server login");
        run("postgres", "create database shop owner shop_owner");
        const auto made = set_up_server(url("shop", "shop_owner"), "shop_server");
        if (!made) throw std::runtime_error(made.error().text);
    }
    // A standby of that one, in step with it from now on: a commit waits for it.
    explicit Cluster(Cluster& first, const std::filesystem::path& where = room()) : folder_(where) {
        give_to_user();
        const int status = wait(run_as_user({"pg_basebackup", "-D", data(), "-h", first.socket(), "-U",
                                             "super", "-X", "stream", "-R", "--no-sync", "-c", "fast"}));
        if (status != 0) throw std::runtime_error("pg_basebackup failed: " + log());
        start();
        first.set("synchronous_standby_names", "*");
        for (int i = 0; i < 400; ++i) {
            if (first.text("postgres",
                           "select cast(count(*) as text) from pg_stat_replication where sync_state = "
                           "'sync'") == "1")
                return;
            std::this_thread::sleep_for(std::chrono::milliseconds(25));
        }
        throw std::runtime_error("the standby does not keep in step: " + log());
    }
    // A standby becomes the one that writes.
    void take_over() const {
        if (text("postgres", "select cast(pg_promote() as text)") != "true")
            throw std::runtime_error("the standby does not take over: " + log());
    }
    std::string socket() const { return socket_; }
    ~Cluster() { stop(SIGQUIT); }  // its data go with it
    Cluster(const Cluster&) = delete;
    Cluster& operator=(const Cluster&) = delete;

    std::string url(const std::string& database, const std::string& role = "shop_server") const {
        return "postgresql://" + role + "@/" + database + "?host=" + socket();
    }
    // A database with the tables in it and nothing else; its name.
    std::string new_database() {
        const std::string name = "test_" + std::to_string(++made_);
        run("postgres", "create database " + name + " template shop owner shop_owner");
        return name;
    }
    // As somebody who may do anything.
    void run(const std::string& database, const std::string& statement) const {
        Sql sql = super(database);
        sql << statement;
    }
    // The same past triggers and references.
    void run_bare(const std::string& database, const std::string& statement) const {
        Sql sql = super(database);
        sql << "set session_replication_role = replica";
        sql << statement;
    }
    std::vector<std::string> texts(const std::string& database, const std::string& query) const {
        Sql sql = super(database);
        return texts(sql, query);
    }
    // Every text that is stored with `from` in it gets `to` there, past triggers and references; how many
    // there were.
    int change(const std::string& database, const std::string& from, const std::string& to) const {
        Sql sql = super(database);
        sql << "set session_replication_role = replica";
        int count = 0;
        for (const std::string& column :
             texts(sql,
                   "select table_name || ' ' || column_name from information_schema.columns where "
                   "table_schema = 'public' and data_type = 'text'")) {
            const auto blank = column.find(' ');
            const std::string table = column.substr(0, blank), name = column.substr(blank + 1),
                              where = " where strpos(" + name + ", '" + from + "') > 0";
            count += std::stoi(texts(sql, "select cast(count(*) as text) from " + table + where).at(0));
            sql << "update " + table + " set " + name + " = replace(" + name + ", '" + from + "', '" + to +
                       "')" + where;
        }
        return count;
    }
    std::string text(const std::string& database, const std::string& query) const {
        return texts(database, query).at(0);
    }

    // A setting of the whole server, "" for the one it had; returns when new connections have it.
    void set(const std::string& setting, const std::string& value) const {
        run("postgres", value.empty() ? "alter system reset " + setting
                                      : "alter system set " + setting + " = '" + value + "'");
        const std::string before = text("postgres", "show " + setting);
        run("postgres", "select pg_reload_conf()");
        for (int i = 0; i < 200 && text("postgres", "show " + setting) == before; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }

    // SIGQUIT: at once, as after a crash; SIGINT: what runs is broken off.
    void stop(int signal) {
        if (pid_ <= 0) return;
        ::kill(pid_, signal);
        wait(pid_);
        pid_ = -1;
    }
    void start(const std::vector<std::string>& more = {}) {
        std::vector<std::string> words{"postgres",
                                       "-D",
                                       data(),
                                       "-k",
                                       socket(),
                                       "-c",
                                       "listen_addresses=",
                                       "-c",
                                       "shared_buffers=16MB",
                                       "-c",
                                       "max_connections=60"};
        words.insert(words.end(), more.begin(), more.end());
        pid_ = run_as_user(words);
        for (int i = 0; i < 400; ++i) {
            try {
                run("postgres", "select 1");
                return;
            } catch (const soci::soci_error&) {
                std::this_thread::sleep_for(std::chrono::milliseconds(25));
            }
        }
        throw std::runtime_error("the PostgreSQL server does not start: " + log());
    }

  private:
    static std::vector<std::string> texts(Sql& sql, const std::string& query) {
        std::string one;
        soci::statement rows = (sql.prepare << query, soci::into(one));
        std::vector<std::string> all;
        rows.execute();
        while (rows.fetch()) all.push_back(one);
        return all;
    }
    Sql super(const std::string& database) const {
        const Dialect& dialect = postgresql_dialect();
        return Sql(dialect.backend(), dialect.connect(url(database, "super")));
    }
    std::string data() const { return socket() + "/data"; }
    std::string log() const {
        std::string all;
        std::FILE* file = std::fopen((socket() + "/log").c_str(), "r");
        for (int c = 0; file != nullptr && (c = std::fgetc(file)) != EOF;) all += static_cast<char>(c);
        if (file != nullptr) std::fclose(file);
        return all;
    }
    // The server and what makes its folder refuse to be root.
    void give_to_user() {
        if (::geteuid() != 0) return;
        const passwd* user = ::getpwnam("postgres");
        if (user == nullptr) user = ::getpwnam("nobody");
        if (user == nullptr) throw std::runtime_error("there is no user to run the PostgreSQL server as");
        user_ = user->pw_uid;
        group_ = user->pw_gid;
        if (::chown(socket().c_str(), user_, group_) != 0) throw std::runtime_error("chown");
    }
    static std::string programs() {
        std::vector<std::string> all;
        std::error_code none;
        for (const auto& one : std::filesystem::directory_iterator("/usr/lib/postgresql", none))
            if (std::filesystem::exists(one.path() / "bin" / "postgres"))
                all.push_back((one.path() / "bin").string());
        if (all.empty())
            throw std::runtime_error("no PostgreSQL server is installed; scripts/packages.sh names it");
        return *std::max_element(all.begin(), all.end());
    }
    pid_t run_as_user(std::vector<std::string> words) {
        words[0] = programs() + "/" + words[0];
        std::vector<char*> raw;
        for (auto& word : words) raw.push_back(word.data());
        raw.push_back(nullptr);
        const std::string log_file = socket() + "/log";
        const pid_t pid = ::fork();
        if (pid != 0) return pid;
        if (user_ != 0 && (::setgid(group_) != 0 || ::setuid(user_) != 0)) ::_exit(126);
        // Should the test itself be killed.
        ::prctl(PR_SET_PDEATHSIG, SIGQUIT);
        const int out = ::open(log_file.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0644);
        ::dup2(out, STDOUT_FILENO);
        ::dup2(out, STDERR_FILENO);
        if (::chdir("/") != 0) ::_exit(126);
        ::execv(raw[0], raw.data());
        ::_exit(127);
    }
    static int wait(pid_t pid) {
        int status = 0;
        ::waitpid(pid, &status, 0);
        return status;
    }

    // In memory where there is room: what is flushed there costs nothing, and no test cuts the power.
    static std::string room() {
        struct statvfs space {};
        constexpr unsigned long long needed = 1ULL << 30;
        const bool roomy = ::statvfs("/dev/shm", &space) == 0 &&
                           static_cast<unsigned long long>(space.f_bavail) * space.f_frsize > needed;
        return (roomy ? std::filesystem::path("/dev/shm") : std::filesystem::temp_directory_path()) /
               "seatwright-pg-";
    }

    TestFolder folder_;
    std::string socket_ = folder_.path();
    uid_t user_ = 0;
    gid_t group_ = 0;
    pid_t pid_ = -1;
    std::atomic<int> made_{0};
};

// Whether the tests that run on both databases are to run on a server: SEATWRIGHT_TEST_DATABASE says
// postgresql.
inline bool on_server() {
    const char* which = std::getenv("SEATWRIGHT_TEST_DATABASE");
    return which != nullptr && std::string(which) == "postgresql";
}

}  // namespace seatwright::store
