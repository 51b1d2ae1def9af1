#include "server/answers/store_json.hpp"

#include "seatwright/base/version.hpp"
#include "seatwright/report/values_json.hpp"
#include "seatwright/store/reading_tables.hpp"
#include "seatwright/store/server_setup.hpp"
#include "seatwright/words/english_server.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::server {

namespace {

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

}  // namespace

Json to_json(const store::Person& p) {
    return {{"id", p.id},
            {"name", p.name},
            {"role", store::name_of(p.role)},
            {"owner", p.owner},
            {"active", p.active}};
}

Json to_json(const store::Version& v) {
    return {{"version", v.number},
            {"by", v.by},
            {"at", store::iso_time(v.at_ms)},
            {"what", v.what},
            {"same_as", or_null(v.same_as)}};
}

Json to_json(const store::ShelfVersion& v) {
    return {{"version", v.number}, {"by", v.by}, {"at", store::iso_time(v.at_ms)}, {"what", v.what}};
}

Json to_json(const TaskState& t) {
    return {{"id", t.id},       {"state", t.state},       {"done", t.done},
            {"total", t.total}, {"sentence", t.sentence}, {"job", or_null(t.job)}};
}

namespace {

std::string values_text(const store::Entry& entry) {
    const auto text = [](const Json& values) {
        return values.dump(-1, ' ', false, Json::error_handler_t::replace);
    };
    return entry.values.contains("accepted_by") ? text(store::shown_values(entry)) : text(entry.values);
}

}  // namespace

Json to_json(const store::Entry& entry) {
    store::Standing standing;
    standing.live = !entry.withdrawn;
    return to_json(entry, standing);
}

Json to_json(const store::Entry& entry, const store::Standing& standing) {
    return Json::parse(text_of(entry, standing).text());
}

report::JsonText text_of(const store::Entry& e, const store::Standing& standing) {
    using report::JsonText;
    const auto whole = [](const std::optional<long long>& value) {
        return value ? JsonText(*value) : JsonText();
    };
    return {{"id", e.id},
            {"sequence", e.sequence},
            {"client_key", e.client_key},
            {"kind", store::name_of(e.kind)},
            {"head", e.head},
            {"valve", e.valve},
            {"place", store::place_of(e)},
            {"values", JsonText::of(values_text(e))},
            {"units", e.units == LengthUnit::inch ? "in" : "mm"},
            {"by", e.by},
            {"read_by", e.read_by ? JsonText(e.read_by_name) : JsonText()},
            {"at", store::iso_time(e.at_ms)},
            {"made_at", e.said_ms ? JsonText(store::iso_time(*e.said_ms)) : JsonText()},
            {"corrects", whole(e.corrects)},
            {"withdrawn", e.withdrawn},
            {"repeat", e.repeat},
            {"superseded_by", whole(standing.superseded_by)},
            {"live", standing.live},
            {"conflict", standing.conflict},
            {"reason", e.reason}};
}

Json to_json(const store::Conflict& c) {
    return {{"place", to_words(c.place)},
            {"kind", store::name_of(c.place.kind)},
            {"head", c.place.head},
            {"valve", c.place.valve},
            {"quantity", c.place.quantity},
            {"entries", c.entries},
            {"used", c.used}};
}

namespace {

// What everybody should know: an open line, backups that fail, damaged data.
Json warning_json(Workbench& bench) {
    std::string words = in_words(bench.warning, {});
    const auto today = std::chrono::floor<std::chrono::days>(local_now());
    if (const Sentence late = bench.nightly.warning(std::chrono::sys_days(today.time_since_epoch()));
        !late.empty())
        words += (words.empty() ? "" : "; ") + in_words(late, {});
    for (const auto& damage : bench.record.damage()) words += (words.empty() ? "" : "; ") + damage;
    return words.empty() ? Json(nullptr) : Json(words);
}

}  // namespace

std::string acknowledged(Workbench& bench) {
    const bool two = bench.database.dialect().is_server && bench.database.read(store::waits_for_standby);
    return in_words(two ? sentence<"on-two-servers">() : sentence<"on-one-disk">(), {});
}

Json session_json(Workbench& bench, const std::optional<store::Login>& login) {
    return {{"first_start", bench.people.first_start()},
            {"person", login ? to_json(login->person) : Json(nullptr)},
            {"csrf", login ? Json(login->csrf) : Json(nullptr)},
            {"by_pin", login && login->by_pin},
            {"now", store::iso_time(store::now_ms())},
            {"version", version},
            {"listening", bench.access.rules().loopback ? "loopback" : "network"},
            {"acknowledged",
             login && login->person.may(store::Role::lead) ? Json(acknowledged(bench)) : Json(nullptr)},
            {"warning", warning_json(bench)}};
}

}  // namespace seatwright::server
