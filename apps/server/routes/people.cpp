// Logging in and out, and who may do what.
#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "server/answers/store_json.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

double steady_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

void answer_login(Call& call, Workbench& bench, int status, const store::Person& person) {
    const store::Login login = bench.people.log_in(person);
    call.response().set_header("Set-Cookie", bench.access.cookie(login.token));
    call.answer(status, session_json(bench, login));
}

constexpr std::size_t longest_name = 80;  // nobody has a longer one

// Throws HttpError 429 while that name or address has to wait.
void check_wait(Call& call, Workbench& bench, const std::string& name, const std::string& address) {
    const double wait = bench.throttle.wait(name, address, steady_seconds());
    if (wait <= 0) return;
    const auto seconds = static_cast<int>(std::ceil(wait));
    call.response().set_header("Retry-After", std::to_string(seconds));
    throw http_error(429, fmt::format("too many wrong passwords; try again in {} s", seconds));
}

// Runs `check`, which is true when the password was right; one at a time, guesses counted and slowed down.
template <class Check>
bool password_checked(Call& call, Workbench& bench, const std::string& name, Check&& check) {
    const std::string address = bench.access.address_of(call.request());
    check_wait(call, bench, name, address);
    const std::lock_guard<std::mutex> one_at_a_time(bench.checking_password);
    check_wait(call, bench, name, address);
    const bool right = check();
    if (right)
        bench.throttle.passed(name);
    else
        bench.throttle.missed(name, address, steady_seconds());
    return right;
}

void log_in(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string name = text_field(body, "name"), password = text_field(body, "password");
    std::optional<store::Person> person;
    const bool right = name.size() <= longest_name && password_checked(call, bench, name, [&] {
                           person = bench.people.check(name, password);
                           return person.has_value();
                       });
    if (!right) throw http_error(401, "name or password is not right");
    answer_login(call, bench, 200, *person);
}

void change_own_password(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string old_password = text_field(body, "old"), new_password = text_field(body, "new");
    store::Answer<long long> changed = store::refuse(store::Why::forbidden, "");
    password_checked(call, bench, call.person().name, [&] {
        changed = bench.people.change_own_password(call.person(), old_password, new_password);
        return changed || changed.error().why != store::Why::forbidden;
    });
    take(std::move(changed));
    answer_login(call, bench, 200, call.person());
}

void make_owner(Call& call, Workbench& bench) {
    // Whoever can reach a first start could take the shop over: only this machine may.
    if (!bench.access.rules().loopback)
        throw http_error(403, "the owner is made on the machine itself, before the network is let in");
    const Json body = call.json();
    answer_login(call, bench, 201,
                 take(bench.people.make_owner(text_field(body, "name"), text_field(body, "password"))));
}

store::Role role_field(const std::string& name) {
    const auto role = store::role_named(name);
    if (!role) throw http_error(400, "a role is reader, machinist or lead");
    return *role;
}

void change_person(Call& call, Workbench& bench) {
    const Json body = call.json();
    store::Change change;
    if (const auto role = text_field_if(body, "role")) change.role = role_field(*role);
    change.password = text_field_if(body, "password");
    if (body.contains("active")) change.active = flag_field(body, "active");
    call.answer(200, to_json(take(bench.people.change(call.person(), call.number(1), change))));
}

}  // namespace

void add_people_routes(Router& router, Workbench& bench) {
    router.add(
        {"GET", "/api/session", {}, [&](Call& call) { call.answer(200, session_json(bench, call.login)); }});
    router.add({"POST", "/api/session", {}, [&](Call& call) { log_in(call, bench); }});
    router.add({"DELETE", "/api/session", Role::reader, [&](Call& call) {
                    bench.people.log_out(call.login->token);
                    call.response().set_header("Set-Cookie", bench.access.cookie(""));
                    call.answer_nothing();
                }});
    router.add({"POST", "/api/owner", {}, [&](Call& call) { make_owner(call, bench); }});
    router.add({"PUT", "/api/session/password", Role::reader,
                [&](Call& call) { change_own_password(call, bench); }});
    router.add({"GET", "/api/people", Role::lead, [&](Call& call) {
                    Json list = Json::array();
                    for (const auto& person : bench.people.all()) list.push_back(to_json(person));
                    call.answer(200, {{"people", list}});
                }});
    router.add({"POST", "/api/people", Role::lead, [&](Call& call) {
                    const Json body = call.json();
                    call.answer(201, to_json(take(bench.people.add(call.person(), text_field(body, "name"),
                                                                   role_field(text_field(body, "role")),
                                                                   text_field(body, "password")))));
                }});
    router.add(
        {"PATCH", "/api/people/{person}", Role::lead, [&](Call& call) { change_person(call, bench); }});
}

}  // namespace seatwright::server
