// Logging in and out, and who may do what.
#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "seatwright/store/names.hpp"
#include "server/answers/store_json.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

double steady_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

std::string caller_address(Call& call, Workbench& bench) {
    return bench.access.address_of(call.request());
}

// The screen this is asked from, if a lead has enrolled it, and whose PIN it takes.
Json screen_json(Call& call, Workbench& bench) {
    const auto screen = bench.screens.of(bench.access.screen_of(call.request()));
    if (!screen) return nullptr;
    return {{"name", screen->name}, {"people", bench.screens.names()}};
}

Json session_of(Call& call, Workbench& bench, const std::optional<store::Login>& login) {
    Json session = session_json(bench, login);
    session["screen"] = screen_json(call, bench);
    return session;
}

void answer_login(Call& call, Workbench& bench, int status, const store::Person& person,
                  bool by_pin = false) {
    const store::Login login = bench.people.log_in(person, caller_address(call, bench), by_pin);
    call.response().set_header("Set-Cookie", bench.access.cookie(login.token));
    call.answer(status, session_of(call, bench, login));
}

// Who says to be somebody, from where, and who that would be.
struct Claim {
    std::optional<store::Person> person;
    Throttle::Try at;
};

Claim claim_of(Call& call, Workbench& bench, const std::string& name) {
    Claim claim{
        bench.people.named(name),
        {store::one_name(name.substr(0, store::longest_person_name)), caller_address(call, bench), false}};
    claim.at.been_here = claim.person && bench.people.was_in_from(claim.person->id, claim.at.address);
    return claim;
}

std::optional<long long> claimed_person(const Claim& claim) {
    return claim.person ? std::optional(claim.person->id) : std::nullopt;
}

// Throws HttpError 429 while that name or address has to wait.
void check_wait(Call& call, Workbench& bench, const Claim& claim) {
    const double wait = bench.throttle.wait(claim.at, steady_seconds());
    if (wait <= 0) return;
    const auto seconds = static_cast<int>(std::ceil(wait));
    call.response().set_header("Retry-After", std::to_string(seconds));
    throw http_error(429, fmt::format("too many wrong passwords; try again in {} s", seconds));
}

void count_miss(Workbench& bench, const Claim& claim, const std::string& why) {
    bench.throttle.missed(claim.at, steady_seconds());
    bench.logins.note("refused: " + why, claimed_person(claim), claim.at.address);
    if (bench.throttle.wait(claim.at, steady_seconds()) > 0)
        bench.logins.note("must wait after too many wrong ones", claimed_person(claim), claim.at.address);
}

// What is wrong with a secret, "" if nothing is; none where it is right and a second one still owed.
using Wrong = std::optional<std::string>;

// Runs `check`, which gives a Wrong; one at a time, guesses counted and slowed down. True when nothing was
// wrong. Misses are forgotten only once all is right: a password that is known must not buy new guesses at
// the code behind it.
template <class Check>
bool secret_checked(Call& call, Workbench& bench, const Claim& claim, Check&& check) {
    check_wait(call, bench, claim);
    const std::lock_guard<std::mutex> one_at_a_time(bench.checking_password);
    check_wait(call, bench, claim);
    const Wrong wrong = check();
    if (!wrong) return true;
    if (wrong->empty())
        bench.throttle.passed(claim.at);
    else
        count_miss(bench, claim, *wrong);
    return wrong->empty();
}

long long now_s() {
    return store::now_ms() / 1000;
}

[[noreturn]] void ask_for_code() {
    HttpError more = http_error(401, "the code of your second factor is needed, too");
    more.body["second_factor"] = true;
    throw more;
}

void log_in_route(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string name = text_field(body, "name"), password = text_field(body, "password");
    const std::string code = text_field_if(body, "code").value_or("");
    const Claim claim = claim_of(call, bench, name);
    std::optional<store::Person> person;
    bool needs_code = false;
    const bool right =
        name.size() <= store::longest_person_name && secret_checked(call, bench, claim, [&]() -> Wrong {
            person = bench.people.check(name, password);
            if (!person) return "wrong password";
            if (!bench.second.is_on(person->id)) return "";
            needs_code = code.empty();
            if (needs_code) return std::nullopt;
            return bench.second.takes(person->id, code, now_s()) ? "" : "wrong code";
        });
    if (!right)
        throw http_error(401, person ? "that is not the code of now" : "name or password is not right");
    if (needs_code) ask_for_code();
    bench.logins.note("logged in", person->id, claim.at.address);
    bench.screens.forgive(person->id);
    answer_login(call, bench, 200, *person);
}

void log_in_by_pin(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string name = text_field(body, "name"), pin = text_field(body, "pin");
    if (!bench.screens.of(bench.access.screen_of(call.request())))
        throw http_error(403,
                         "PINs are taken at screens a lead has enrolled; sign in with your password here");
    const Claim claim = claim_of(call, bench, name);
    auto taken = store::PinTaken::none;
    const bool right = secret_checked(call, bench, claim, [&]() -> std::string {
        if (claim.person && claim.person->active) taken = bench.screens.take(claim.person->id, pin);
        return taken == store::PinTaken::right ? "" : "wrong PIN";
    });
    if (taken == store::PinTaken::password_only) {
        HttpError password = http_error(
            401, fmt::format("{} wrong PINs: sign in with your password once", store::most_wrong_pins));
        password.body["password_needed"] = true;
        throw password;
    }
    if (!right) throw http_error(401, "name or PIN is not right");
    bench.logins.note("logged in by PIN", claim.person->id, claim.at.address);
    answer_login(call, bench, 200, *claim.person, true);
}

// Of the person logged in: whether that is the password.
bool own_password(Call& call, Workbench& bench, const std::string& password) {
    return secret_checked(call, bench, claim_of(call, bench, call.person().name), [&] {
        return bench.people.check(call.person().name, password) ? "" : "wrong password";
    });
}

void change_own_password(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string old_password = text_field(body, "old"), new_password = text_field(body, "new");
    store::Answer<long long> changed = store::refuse(store::Why::forbidden, "");
    secret_checked(call, bench, claim_of(call, bench, call.person().name), [&]() -> std::string {
        changed = bench.people.change_own_password(call.person(), old_password, new_password);
        return changed || changed.error().why != store::Why::forbidden ? "" : "wrong password";
    });
    take(std::move(changed));
    bench.end_streams_logged_out();
    bench.logins.note("chose a new password", call.person().id, caller_address(call, bench));
    answer_login(call, bench, 200, call.person());
}

void set_pin(Call& call, Workbench& bench) {
    const Json body = call.json();
    if (!own_password(call, bench, text_field(body, "password")))
        throw http_error(403, "the password is not right");
    take(bench.screens.set_pin(call.person(), text_field(body, "pin")));
    call.answer_nothing();
}

void enroll_screen(Call& call, Workbench& bench) {
    const std::string token = take(bench.screens.enroll(call.person(), text_field(call.json(), "name")));
    call.response().set_header("Set-Cookie", bench.access.screen_cookie(token));
    call.answer_nothing();
}

void list_screens(Call& call, Workbench& bench) {
    const auto here = bench.screens.of(bench.access.screen_of(call.request()));
    Json list = Json::array();
    for (const auto& screen : bench.screens.all())
        list.push_back({{"id", screen.id},
                        {"name", screen.name},
                        {"since", store::iso_time(screen.made_ms)},
                        {"by", screen.made_by},
                        {"this_one", here && here->id == screen.id}});
    call.answer(200, {{"screens", std::move(list)}});
}

void begin_second_factor(Call& call, Workbench& bench) {
    const Json body = call.json();
    if (!own_password(call, bench, text_field(body, "password")))
        throw http_error(403, "the password is not right");
    const std::string secret = take(bench.second.begin(call.person()));
    call.answer(201, {{"secret", secret}});
}

void confirm_second_factor(Call& call, Workbench& bench) {
    const Json body = call.json();
    Json codes = Json::array();
    for (const auto& code : take(bench.second.confirm(call.person(), text_field(body, "code"), now_s())))
        codes.push_back(code);
    bench.logins.note("asks for a second factor", call.person().id, caller_address(call, bench));
    call.answer(200, {{"codes", std::move(codes)}});
}

void end_second_factor(Call& call, Workbench& bench) {
    const Json body = call.json();
    if (!own_password(call, bench, text_field(body, "password")))
        throw http_error(403, "the password is not right");
    bench.second.end(call.person(), call.person());
    bench.logins.note("took the second factor away", call.person().id, caller_address(call, bench));
    call.answer_nothing();
}

void list_logins(Call& call, Workbench& bench) {
    Json list = Json::array();
    const std::string own = store::People::login_id(call.login->token);
    for (const auto& login : bench.people.open_logins(call.person().id))
        list.push_back({{"id", login.id},
                        {"since", store::iso_time(login.made_ms)},
                        {"used", store::iso_time(login.used_ms)},
                        {"address", login.address},
                        {"this_one", login.id == own}});
    call.answer(200, {{"logins", std::move(list)},
                      {"second_factor", bench.second.is_on(call.person().id)},
                      {"pin", bench.screens.has_pin(call.person().id)}});
}

void show_login_lines(Call& call, Workbench& bench) {
    const long long limit = call.query_number("limit").value_or(100);
    Json list = Json::array();
    std::optional<long long> last;
    for (const auto& line : bench.logins.lines(call.query_number("before"), limit)) {
        list.push_back({{"id", line.id},
                        {"at", store::iso_time(line.at_ms)},
                        {"what", line.what},
                        {"name", line.name},
                        {"address", line.address}});
        last = line.id;
    }
    call.answer(200, {{"lines", std::move(list)}, {"before", last ? Json(*last) : Json(nullptr)}});
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
    change.name = text_field_if(body, "name");
    change.password = text_field_if(body, "password");
    if (body.contains("active")) change.active = flag_field(body, "active");
    const auto person = take(bench.people.change(call.person(), call.number(1), change));
    bench.end_streams_logged_out();
    if (change.name) {
        bench.cache.names_changed();
        bench.events.resync();
    }
    // Who has lost the device with the codes comes in again.
    if (body.contains("second_factor") && !flag_field(body, "second_factor")) {
        if (person.owner && call.person().id != person.id)
            throw http_error(403, "only the owner takes the owner's second factor away");
        bench.second.end(call.person(), person);
    }
    call.answer(200, to_json(person));
}

}  // namespace

void add_people_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/session", {}, [&](Call& call) {
                    call.answer(200, session_of(call, bench, call.login));
                }});
    router.add({"POST", "/api/session", {}, [&](Call& call) { log_in_route(call, bench); }});
    router.add({"POST", "/api/session/pin", {}, [&](Call& call) { log_in_by_pin(call, bench); }});
    router.add({"PUT", "/api/session/pin", Role::reader, [&](Call& call) { set_pin(call, bench); }});
    router.add({"DELETE", "/api/session/pin", Role::reader, [&](Call& call) {
                    bench.screens.take_pin_away(call.person(), call.person());
                    call.answer_nothing();
                }});
    router.add({"GET", "/api/screens", Role::lead, [&](Call& call) { list_screens(call, bench); }});
    router.add({"POST", "/api/screens", Role::lead, [&](Call& call) { enroll_screen(call, bench); }});
    router.add({"DELETE", "/api/screens/{screen}", Role::lead, [&](Call& call) {
                    take(bench.screens.end(call.person(), call.number(1)));
                    call.answer_nothing();
                }});
    router.add({"DELETE", "/api/session", Role::reader, [&](Call& call) {
                    bench.people.log_out(call.login->token);
                    bench.end_streams_logged_out();
                    call.response().set_header("Set-Cookie", bench.access.cookie(""));
                    call.answer_nothing();
                }});
    router.add({"GET", "/api/logins", Role::reader, [&](Call& call) { list_logins(call, bench); }});
    router.add({"DELETE", "/api/logins/{login}", Role::reader, [&](Call& call) {
                    take(bench.people.end_login(call.person(), call.part(1)));
                    bench.end_streams_logged_out();
                    call.answer_nothing();
                }});
    router.add({"POST", "/api/session/second-factor", Role::lead,
                [&](Call& call) { begin_second_factor(call, bench); }});
    router.add({"PUT", "/api/session/second-factor", Role::lead,
                [&](Call& call) { confirm_second_factor(call, bench); }});
    router.add({"DELETE", "/api/session/second-factor", Role::reader,
                [&](Call& call) { end_second_factor(call, bench); }});
    router.add({"GET", "/api/login-lines", Role::lead, [&](Call& call) { show_login_lines(call, bench); }});
    router.add({"POST", "/api/owner", {}, [&](Call& call) { make_owner(call, bench); }});
    router.add({"PUT", "/api/session/password", Role::reader,
                [&](Call& call) { change_own_password(call, bench); }});
    router.add({"GET", "/api/people", Role::lead, [&](Call& call) {
                    Json list = Json::array();
                    for (const auto& person : bench.people.all()) list.push_back(to_json(person));
                    call.answer(200, {{"people", list}});
                }});
    router.add({"GET", "/api/people/names", Role::machinist, [&](Call& call) {
                    Json names = Json::array();
                    for (const auto& person : bench.people.all())
                        if (person.active) names.push_back(person.name);
                    call.answer(200, {{"names", names}});
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
