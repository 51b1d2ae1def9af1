#include "seatwright/store/second_factor.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/store/ledger.hpp"
#include "seatwright/store/passwords.hpp"
#include "seatwright/store/totp.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t secret_bytes = 20;  // RFC 4226, section 4: 160 bits recommended
constexpr int written_codes = 10;

struct Kept {
    std::string secret;
    long long is_on = 0, last_step = 0;
};

std::optional<Kept> kept_of(Sql& sql, long long person) {
    Kept kept;
    sql << "select secret, is_on, last_step from second_factor where person_id = :id", soci::use(person),
        soci::into(kept.secret), soci::into(kept.is_on), soci::into(kept.last_step);
    return sql.got_data() ? std::optional(kept) : std::nullopt;
}

std::string hash_of_written(const std::string& code) {
    std::string bare;
    for (const char c : code)
        if (c != '-' && c != ' ') bare += c;
    return token_hash("written down " + bare);
}

void take_step(Sql& sql, long long person, long long step) {
    sql << "update second_factor set is_on = 1, last_step = :step where person_id = :id", soci::use(step),
        soci::use(person);
}

void forget_factor(Sql& sql, long long person) {
    sql << "delete from written_code where person_id = :id", soci::use(person);
    sql << "delete from second_factor where person_id = :id", soci::use(person);
}

}  // namespace

bool SecondFactor::is_on(long long person) {
    return database_.read([&](Sql& sql) {
        const auto kept = kept_of(sql, person);
        return kept && kept->is_on != 0;
    });
}

Answer<std::string> SecondFactor::begin(const Person& person) {
    if (!person.may(Role::lead)) return refuse(Why::forbidden, "a second factor is for leads");
    return database_.write([&](Sql& sql) -> Answer<std::string> {
        const auto kept = kept_of(sql, person.id);
        if (kept && kept->is_on != 0)
            return refuse(Why::taken, "there is one already; take it away before you make another");
        forget_factor(sql, person.id);
        const std::string secret = base32(random_bytes(secret_bytes));
        const long long now = now_ms();
        sql << "insert into second_factor (person_id, secret, is_on, last_step, made_ms) values (:id, "
               ":secret, "
               "0, 0, :now)",
            soci::use(person.id), soci::use(secret), soci::use(now);
        return secret;
    });
}

Answer<std::vector<std::string>> SecondFactor::confirm(const Person& person, const std::string& code,
                                                       long long now_s) {
    return database_.write([&](Sql& sql) -> Answer<std::vector<std::string>> {
        const auto kept = kept_of(sql, person.id);
        if (!kept || kept->is_on != 0) return refuse(Why::bad, "ask for a secret first");
        const auto step = totp_step_of(bytes_of_base32(kept->secret), code, now_s, kept->last_step);
        if (!step)
            return refuse(Why::bad, "that is not the code of now; does the device show the right time?");
        take_step(sql, person.id, *step);
        std::vector<std::string> codes;
        for (int i = 0; i < written_codes; ++i) {
            const std::string word = random_hex(6);
            codes.push_back(word.substr(0, 4) + "-" + word.substr(4, 4) + "-" + word.substr(8, 4));
            const std::string hash = hash_of_written(codes.back());
            sql << "insert into written_code (person_id, code_hash) values (:id, :hash)",
                soci::use(person.id), soci::use(hash);
        }
        note(sql, {person.id, {}, {}, {}}, of_person(person.id) + " asks for a second factor at login");
        return codes;
    });
}

void SecondFactor::end(const Person& by, const Person& of) {
    database_.write([&](Sql& sql) {
        if (!kept_of(sql, of.id)) return;
        forget_factor(sql, of.id);
        note(sql, {by.id, {}, {}, {}}, "took away the second factor of " + of_person(of.id));
    });
}

bool SecondFactor::takes(long long person, const std::string& code, long long now_s) {
    return database_.write([&](Sql& sql) {
        const auto kept = kept_of(sql, person);
        if (!kept || kept->is_on == 0) return false;
        if (const auto step = totp_step_of(bytes_of_base32(kept->secret), code, now_s, kept->last_step)) {
            take_step(sql, person, *step);
            return true;
        }
        const std::string hash = hash_of_written(code);
        long long found = 0;
        sql << "select count(*) from written_code where person_id = :id and code_hash = :hash",
            soci::use(person), soci::use(hash), soci::into(found);
        if (found == 0) return false;
        sql << "delete from written_code where person_id = :id and code_hash = :hash", soci::use(person),
            soci::use(hash);
        return true;
    });
}

}  // namespace seatwright::store
