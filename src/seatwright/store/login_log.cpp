#include "seatwright/store/login_log.hpp"

#include <algorithm>
#include <limits>

#include "seatwright/store/columns.hpp"

namespace seatwright::store {

void LoginLog::note(const std::string& what, std::optional<long long> person, const std::string& address) {
    NullableNumber of(person);
    const long long now = now_ms();
    const std::string from = address.substr(0, 64);
    database_.write([&](Sql& sql) {
        sql << "insert into login_line (made_ms, what, person_id, address) values (:now, :what, :person, "
               ":address)",
            soci::use(now), soci::use(what), soci::use(of.value, of.state), soci::use(from);
    });
}

std::vector<LoginLine> LoginLog::lines(std::optional<long long> before, long long limit) {
    const long long below = before.value_or(std::numeric_limits<long long>::max());
    const long long most = std::clamp(limit, 1LL, 500LL);
    return database_.read([&](Sql& sql) {
        LoginLine line;
        NullableText name;
        soci::statement rows =
            (sql.prepare
                 << "select l.id, l.made_ms, l.what, p.name, l.address from login_line l left join person "
                    "p on p.id = l.person_id where l.id < :below order by l.id desc limit :most",
             soci::use(below), soci::use(most), soci::into(line.id), soci::into(line.at_ms),
             soci::into(line.what), soci::into(name.value, name.state), soci::into(line.address));
        std::vector<LoginLine> all;
        rows.execute();
        while (rows.fetch()) {
            line.name = name.get().value_or("");
            all.push_back(line);
        }
        return all;
    });
}

}  // namespace seatwright::store
