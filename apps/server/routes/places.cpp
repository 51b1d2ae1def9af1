// Places of machines: set up by a lead, sent to by a machinist, who also says what became of what was sent.
#include "server/routes/places.hpp"

#include "server/answers/store_json.hpp"
#include "server/jobs/selection.hpp"
#include "server/places/sending.hpp"
#include "server/places/settings.hpp"
#include "server/places/standing.hpp"

namespace seatwright::server {

namespace {

using store::Became;
using store::Role;

store::PlaceRow place_row(Call& call, Workbench& bench) {
    auto row = found(bench.places.row(call.number(1)), "place");
    if (row.put_away) throw http_error(404, "there is no such place");
    return row;
}

void list(Call& call, Workbench& bench) {
    Json all = Json::array();
    for (const auto& row : bench.places.rows()) {
        Json running = Json::array();
        for (const auto& one : bench.places.at_place(row.id))
            if (one.may_run())
                running.push_back({{"id", one.id}, {"name", one.name}, {"job", one.job}, {"head", one.head}});
        Json json = to_json(row);
        json["running"] = std::move(running);
        all.push_back(std::move(json));
    }
    call.answer(200, {{"places", std::move(all)}});
}

void make_place(Call& call, Workbench& bench) {
    const auto row = take(bench.places.make(call.person(), place_of(call.json(), bench.folder)));
    bench.events.publish(0, "places", "{}");
    call.answer(201, to_json(row));
}

void change(Call& call, Workbench& bench) {
    const auto row = place_row(call, bench);
    const Json body = call.json();
    const auto next = take(bench.places.change(call.person(), row.id, number_field(body, "version"),
                                               place_of(body, bench.folder)));
    bench.events.publish(0, "places", "{}");
    call.answer(200, to_json(next));
}

void put_away(Call& call, Workbench& bench) {
    take(bench.places.put_away(call.person(), place_row(call, bench).id));
    bench.events.publish(0, "places", "{}");
    call.answer_nothing();
}

void visited(Call& call, const std::vector<Sentence>& notes) {
    call.answer(200, {{"notes", in_words(notes, call.speech())}});
}

void send(Call& call, Workbench& bench) {
    constexpr std::size_t most_files = 64;
    const Json body = call.json();
    WantedSending wanted;
    wanted.job = call.number(1);
    wanted.place = number_field(body, "place");
    wanted.head = text_field(body, "head");
    wanted.part = part_key(selection_of(call, *bench.cache.stored(wanted.job)));
    const auto files = body.find("files");
    if (files == body.end() || !files->is_array() || files->size() > most_files)
        throw http_error(400, "files is a list of the programs to be sent");
    for (const auto& file : *files) {
        if (!file.is_string()) throw http_error(400, "files is a list of names");
        wanted.files.push_back(file);
    }
    wanted.to_run = !flag_field(body, "ahead");
    wanted.speech = call.speech();
    check_sending(bench, wanted);
    const auto work = [&bench, wanted, by = call.person()](TaskReport& report) {
        return send_programs(bench, by, wanted, report);
    };
    call.answer(202, to_json(take(bench.tasks.start(call.person().id, TaskKind::send, work))));
}

// The word holds for every sending of the same bytes under that name at that place.
void say(Call& call, Workbench& bench) {
    const auto sending = found(bench.places.sending(call.number(1)), "sending");
    const std::string word = text_field(call.json(), "word");
    const auto became = store::became_of(word);
    if (became != Became::cut && became != Became::not_started && became != Became::stopped)
        throw http_error(400, "word is cut, not started or stopped");
    for (const auto& one : bench.places.at_place(sending.place))
        if (one.id == sending.id ||
            (one.name == sending.name && one.sha256 == sending.sha256 && one.may_run()))
            bench.places.note(call.person(), one.id, *became, "");
    tell_of_places(bench, sending.job);
    call.answer(200, sent_json(bench, sending.job, sending.head, call.speech()));
}

void read_again(Call& call, Workbench& bench) {
    const long long id = found(bench.places.sending(call.number(1)), "sending").id;
    const auto work = [&bench, id, by = call.person(), speech = call.speech()](TaskReport& report) {
        return read_back(bench, by, id, speech, report);
    };
    call.answer(202, to_json(take(bench.tasks.start(call.person().id, TaskKind::send, work))));
}

}  // namespace

void add_place_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/places", Role::reader, [&](Call& call) { list(call, bench); }});
    router.add({"POST", "/api/places", Role::lead, [&](Call& call) { make_place(call, bench); }});
    router.add({"PUT", "/api/places/{place}", Role::lead, [&](Call& call) { change(call, bench); }});
    router.add({"DELETE", "/api/places/{place}", Role::lead, [&](Call& call) { put_away(call, bench); }});
    router.add({"POST", "/api/places/{place}/look", Role::machinist, [&](Call& call) {
                    visited(call, look_at_place(bench, place_row(call, bench), call.speech()));
                }});
    router.add({"POST", "/api/places/{place}/clear", Role::machinist, [&](Call& call) {
                    visited(call, clear_place(bench, place_row(call, bench), call.speech()));
                }});
    router.add({"GET", "/api/jobs/{id}/sent", Role::reader, [&](Call& call) {
                    found(bench.jobs.row(call.number(1)), "job");
                    call.answer(200, sent_json(bench, call.number(1), call.query("head"), call.speech()));
                }});
    router.add({"POST", "/api/jobs/{id}/send", Role::machinist, [&](Call& call) { send(call, bench); }});
    router.add(
        {"POST", "/api/sendings/{sending}/said", Role::machinist, [&](Call& call) { say(call, bench); }});
    router.add({"POST", "/api/sendings/{sending}/read_back", Role::machinist,
                [&](Call& call) { read_again(call, bench); }});
}

}  // namespace seatwright::server
