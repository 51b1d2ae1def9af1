#include "seatwright/store/dialect.hpp"

#include <fmt/format.h>

namespace seatwright::store {

namespace {

std::vector<std::string> append_only_triggers(const std::string& table) {
    std::vector<std::string> statements;
    for (const std::string verb : {"update", "delete"})
        statements.push_back(
            fmt::format("create trigger {0}_no_{1} before {1} on {0} begin "
                        "select raise(abort, '{0} is append-only'); end",
                        table, verb));
    return statements;
}

// Another process (a backup) may hold the file for a moment: wait 10 s before giving up.
std::string connect_string(const std::string& place) {
    return fmt::format("db=\"{}\" timeout=10", place);
}

}  // namespace

// WAL keeps readers going while one writes; FULL makes each commit reach the disk before it returns
// (sqlite.org/pragma.html#pragma_synchronous); a plain BEGIN would take the write lock too late and fail with
// "busy" instead of waiting.
const Dialect& sqlite_dialect() {
    static const Dialect dialect{"begin immediate",
                                 "begin",
                                 "integer primary key autoincrement",
                                 {"pragma journal_mode = wal", "pragma synchronous = full",
                                  "pragma foreign_keys = on", "pragma trusted_schema = off"},
                                 append_only_triggers,
                                 connect_string};
    return dialect;
}

}  // namespace seatwright::store
