#include "seatwright/store/database.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <chrono>

#include "seatwright/store/migrations.hpp"

namespace seatwright::store {

Database::Transaction::~Transaction() {
    if (!open_) return;
    try {
        sql_ << "rollback";
    } catch (const soci::soci_error&) {
        // The database has already rolled back by itself (disk full, commit refused).
    }
}

Database::Database(const std::string& file, DatabaseOptions options)
    : dialect_(sqlite_dialect()),
      file_(file),
      pool_(std::make_unique<soci::connection_pool>(options.connections)) {
    for (std::size_t i = 0; i < options.connections; ++i) {
        Sql& sql = pool_->at(i);
        sql.open(soci::sqlite3, dialect_.connect(file));
        for (const auto& statement : dialect_.on_connect) sql << statement;
        if (i == 0) migrate(sql, dialect_);
    }
}

Database::~Database() = default;

long long now_ms() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

std::string iso_time(long long ms) {
    const auto seconds = static_cast<std::time_t>(ms / 1000);
    return fmt::format("{:%Y-%m-%dT%H:%M:%S}.{:03}Z", fmt::gmtime(seconds), ms % 1000);
}

}  // namespace seatwright::store
