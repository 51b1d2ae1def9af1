#include "seatwright/store/news.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <libpq-fe.h>
#include <poll.h>
#include <unistd.h>

#include <algorithm>

#include "seatwright/store/notice.hpp"

namespace seatwright::store {

namespace {

constexpr int first_wait_ms = 200, longest_wait_ms = 5000;

using QueryResult = std::unique_ptr<PGresult, void (*)(PGresult*)>;

}  // namespace

struct News::Connection {
    std::unique_ptr<PGconn, void (*)(PGconn*)> conn;
    explicit Connection(const std::string& connect) : conn(PQconnectdb(connect.c_str()), PQfinish) {}
    bool good() const { return PQstatus(conn.get()) == CONNECTION_OK; }
    bool says(const std::string& statement) const {
        const QueryResult result(PQexec(conn.get(), statement.c_str()), PQclear);
        return PQresultStatus(result.get()) == PGRES_COMMAND_OK;
    }
};

News::News(Database& database, Heard heard) : database_(database), heard_(std::move(heard)) {
    if (!database_.dialect().is_server) return;
    if (::pipe2(stop_, O_CLOEXEC) != 0) throw std::runtime_error("no pipe to listen by");
    thread_ = std::thread([this] { run(); });
}

News::~News() {
    // Said, not only closed: a child process may hold the other end, too.
    if (stop_[1] >= 0) static_cast<void>(!::write(stop_[1], "", 1));
    if (thread_.joinable()) thread_.join();
    for (const int end : stop_)
        if (end >= 0) ::close(end);
}

// Whether it is to stop; waits for that, and for the socket if there is one.
bool News::wait_to_stop(int socket, int longest_ms) const {
    pollfd watched[2] = {{stop_[0], POLLIN, 0}, {socket, POLLIN, 0}};
    ::poll(watched, 2, longest_ms);
    return watched[0].revents != 0;
}

void News::run() {
    const std::string connect = database_.dialect().connect(database_.place());
    int wait_ms = first_wait_ms;
    bool before = false;
    do {
        Connection connection(connect);
        if (connection.good() && connection.says(fmt::format("listen {}", notice_channel))) {
            wait_ms = first_wait_ms;
            try {
                if (before) heard_.away();
                before = true;
                listen(connection);
            } catch (const std::exception&) {
                // The database went away while it was read; it is read anew when it is there again.
            }
        } else {
            wait_ms = std::min(2 * wait_ms, longest_wait_ms);
        }
        before = true;
    } while (!wait_to_stop(-1, wait_ms));
}

void News::listen(Connection& connection) {
    while (!wait_to_stop(PQsocket(connection.conn.get()), -1)) {
        if (PQconsumeInput(connection.conn.get()) == 0) return;
        while (PGnotify* one = PQnotifies(connection.conn.get())) {
            const std::string text = one->extra;
            PQfreemem(one);
            take(text);
        }
    }
}

void News::take(const std::string& text) {
    const auto notice = notice_of(text);
    if (!notice || notice->shop != database_.shop() || notice->sender == database_.sender()) return;
    const auto lines = lines_between(database_, notice->first, notice->last);
    if (!lines.empty()) heard_.written(lines);
}

}  // namespace seatwright::store
