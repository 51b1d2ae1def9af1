#include "seatwright/store/places.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

constexpr std::array<std::pair<Became, const char*>, 9> became_words{{{Became::arrived, "arrived"},
                                                                      {Became::failed, "failed"},
                                                                      {Became::cut, "cut"},
                                                                      {Became::not_started, "not started"},
                                                                      {Became::stopped, "stopped"},
                                                                      {Became::removed, "removed"},
                                                                      {Became::gone, "gone"},
                                                                      {Became::read_back, "read back"},
                                                                      {Became::differs, "differs"}}};

bool is_said(Became became) {
    return became == Became::cut || became == Became::not_started || became == Became::stopped;
}

std::vector<PlaceRow> select_places(Sql& sql, const std::string& condition, long long bind) {
    PlaceRow row;
    long long away = 0;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select id, machine, name, kind, settings, version, is_put_away from place where shop = "
                ":shop and " +
                    condition + " order by id",
         soci::use(shop), soci::use(bind), soci::into(row.id), soci::into(row.machine), soci::into(row.name),
         soci::into(row.kind), soci::into(row.settings), soci::into(row.version), soci::into(away));
    std::vector<PlaceRow> all;
    rows.execute();
    while (rows.fetch()) {
        row.put_away = away != 0;
        all.push_back(row);
    }
    return all;
}

std::optional<PlaceRow> place_by_id(Sql& sql, long long id) {
    const auto found = select_places(sql, "id = :id", id);
    return found.empty() ? std::nullopt : std::optional(found.front());
}

void add_lines(Sql& sql, std::vector<Sending>& sendings, const std::string& condition, long long bind) {
    std::map<long long, Sending*> by_id;
    for (auto& one : sendings) by_id[one.id] = &one;
    long long of = 0;
    std::string became;
    NullableText by;
    SendingLine line;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select l.sending_id, l.became, l.words, l.made_ms, p.name from sending_line l join sending "
                "s "
                "on s.id = l.sending_id left join person p on p.id = l.made_by where l.shop = :shop and " +
                    condition + " order by l.id",
         soci::use(shop), soci::use(bind), soci::into(of), soci::into(became), soci::into(line.words),
         soci::into(line.at_ms), soci::into(by.value, by.state));
    rows.execute();
    while (rows.fetch()) {
        const auto at = by_id.find(of);
        if (at == by_id.end()) continue;
        line.became = became_of(became).value_or(Became::failed);
        line.by = by.get().value_or("");
        at->second->lines.push_back(line);
    }
}

// The bytes of those whose end is noted are many and seldom asked for.
enum class Bytes { all, of_open_ones };

std::vector<Sending> select_sendings(Sql& sql, const std::string& condition, long long bind, Bytes bytes) {
    Sending s;
    long long run = 0;
    const long long shop = sql.shop();
    const std::string body =
        bytes == Bytes::all
            ? "s.body"
            : "case when exists (select 1 from sending_line l where "
              "l.sending_id = s.id and l.became in ('arrived', 'failed')) then '' else s.body end";
    std::vector<Sending> all;
    {
        soci::statement rows =
            (sql.prepare
                 << "select s.id, s.place_id, s.job_id, s.head, s.file_name, s.name_there, s.temporary, " +
                        body +
                        ", s.sha256, s.part, s.first_seats, s.is_to_run, s.made_ms, p.name from sending s "
                        "join person p on p.id = s.made_by where s.shop = :shop and " +
                        condition + " order by s.id",
             soci::use(shop), soci::use(bind), soci::into(s.id), soci::into(s.place), soci::into(s.job),
             soci::into(s.head), soci::into(s.file), soci::into(s.name), soci::into(s.temporary),
             soci::into(s.bytes), soci::into(s.sha256), soci::into(s.part), soci::into(s.first_seats),
             soci::into(run), soci::into(s.at_ms), soci::into(s.by));
        rows.execute();
        while (rows.fetch()) {
            s.to_run = run != 0;
            all.push_back(s);
        }
    }
    add_lines(sql, all, condition, bind);
    return all;
}

std::optional<Refusal> fault_of(Sql& sql, const NewPlace& place, long long own) {
    constexpr std::size_t longest = 100;
    const auto refusal = [](Why why, std::string text) { return Refusal{why, std::move(text), {}, {}, {}}; };
    if (place.name.empty() || place.name.size() > longest)
        return refusal(Why::bad, fmt::format("a place has a name of 1 to {} letters", longest));
    if (place.machine.empty()) return refusal(Why::bad, "a place belongs to a machine of the shelf");
    for (const auto& other : select_places(sql, "is_put_away = :away", 0))
        if (other.id != own && other.name == place.name)
            return refusal(Why::taken, fmt::format("there is a place called '{}' already", place.name));
    return std::nullopt;
}

// Of a file that may be running there; empty: of none.
std::string running_at(Sql& sql, long long place) {
    for (const auto& one : select_sendings(sql, "s.place_id = :place", place, Bytes::of_open_ones))
        if (one.may_run()) return one.name;
    return {};
}

Refusal still_running(const std::string& name) {
    return {
        Why::stale,
        fmt::format("{} was sent there and may be running: say \"cut\", \"not started\" or \"stopped\" first",
                    name),
        {},
        {},
        {}};
}

}  // namespace

std::string word_of(Became became) {
    const auto* at = std::find_if(became_words.begin(), became_words.end(),
                                  [&](const auto& w) { return w.first == became; });
    return at == became_words.end() ? "" : at->second;
}

std::optional<Became> became_of(const std::string& word) {
    const auto* at = std::find_if(became_words.begin(), became_words.end(),
                                  [&](const auto& w) { return w.second == word; });
    return at == became_words.end() ? std::nullopt : std::optional(at->first);
}

bool Sending::open() const {
    return std::none_of(lines.begin(), lines.end(), [](const auto& l) {
        return l.became == Became::arrived || l.became == Became::failed;
    });
}

std::optional<Became> Sending::said() const {
    const auto at =
        std::find_if(lines.rbegin(), lines.rend(), [](const auto& l) { return is_said(l.became); });
    return at == lines.rend() ? std::nullopt : std::optional(at->became);
}

bool Sending::may_stand() const {
    return std::none_of(lines.begin(), lines.end(), [](const auto& l) {
        return l.became == Became::failed || l.became == Became::removed || l.became == Became::gone;
    });
}

bool Sending::may_run() const {
    const bool failed =
        std::any_of(lines.begin(), lines.end(), [](const auto& l) { return l.became == Became::failed; });
    return to_run && !failed && !said();
}

std::vector<PlaceRow> Places::rows() {
    return database_.read([](Sql& sql) { return select_places(sql, "is_put_away = :away", 0); });
}

std::optional<PlaceRow> Places::row(long long id) {
    return database_.read([&](Sql& sql) { return place_by_id(sql, id); });
}

Answer<PlaceRow> Places::make(const Person& by, const NewPlace& place) {
    return database_.write([&](Sql& sql) -> Answer<PlaceRow> {
        if (auto fault = fault_of(sql, place, 0)) return tl::unexpected(*fault);
        const long long shop = sql.shop(), now = now_ms();
        PlaceRow row;
        static_cast<NewPlace&>(row) = place;
        sql << "insert into place (shop, machine, name, kind, settings, version, is_put_away, made_ms, "
               "made_by) "
               "values (:shop, :machine, :name, :kind, :settings, 1, 0, :now, :by) returning id",
            soci::use(shop), soci::use(place.machine), soci::use(place.name), soci::use(place.kind),
            soci::use(place.settings), soci::use(now), soci::use(by.id), soci::into(row.id);
        store::note(sql, {by.id, {}, {}, {}},
                    fmt::format("set up the place '{}' of {}: {} {}", place.name, place.machine, place.kind,
                                place.settings));
        return row;
    });
}

Answer<PlaceRow> Places::change(const Person& by, long long id, long long made_on, const NewPlace& place) {
    return database_.write([&](Sql& sql) -> Answer<PlaceRow> {
        const auto now = place_by_id(sql, id);
        if (!now || now->put_away) return refuse(Why::not_found, "there is no such place");
        if (now->version != made_on)
            return tl::unexpected(
                Refusal{Why::stale, "somebody changed this place meanwhile", {}, now->version, {}});
        if (auto fault = fault_of(sql, place, id)) return tl::unexpected(*fault);
        if (const auto running = running_at(sql, id); !running.empty())
            return tl::unexpected(still_running(running));
        const long long next = now->version + 1;
        sql << "update place set machine = :machine, name = :name, kind = :kind, settings = :settings, "
               "version = "
               ":version where id = :id",
            soci::use(place.machine), soci::use(place.name), soci::use(place.kind), soci::use(place.settings),
            soci::use(next), soci::use(id);
        store::note(sql, {by.id, {}, {}, {}},
                    fmt::format("changed the place '{}' of {}: {} {}", place.name, place.machine, place.kind,
                                place.settings));
        return *place_by_id(sql, id);
    });
}

Answer<PlaceRow> Places::put_away(const Person& by, long long id) {
    return database_.write([&](Sql& sql) -> Answer<PlaceRow> {
        auto now = place_by_id(sql, id);
        if (!now || now->put_away) return refuse(Why::not_found, "there is no such place");
        if (const auto running = running_at(sql, id); !running.empty())
            return tl::unexpected(still_running(running));
        sql << "update place set is_put_away = 1 where id = :id", soci::use(id);
        store::note(sql, {by.id, {}, {}, {}},
                    fmt::format("put away the place '{}' of {}", now->name, now->machine));
        now->put_away = true;
        return *now;
    });
}

Sending Places::begin(const Person& by, const NewSending& given) {
    return database_.write([&](Sql& sql) {
        Sending s;
        static_cast<NewSending&>(s) = given;
        s.at_ms = now_ms();
        s.by = by.name;
        const long long shop = sql.shop(), run = given.to_run ? 1 : 0;
        sql << "insert into sending (shop, place_id, job_id, head, file_name, name_there, temporary, body, "
               "sha256, "
               "part, first_seats, is_to_run, made_ms, made_by) values (:shop, :place, :job, :head, :file, "
               ":name, "
               ":temporary, :body, :sha, :part, :seats, :run, :now, :by) returning id",
            soci::use(shop), soci::use(s.place), soci::use(s.job), soci::use(s.head), soci::use(s.file),
            soci::use(s.name), soci::use(s.temporary), soci::use(s.bytes), soci::use(s.sha256),
            soci::use(s.part), soci::use(s.first_seats), soci::use(run), soci::use(s.at_ms), soci::use(by.id),
            soci::into(s.id);
        const auto place = place_by_id(sql, s.place);
        store::note(sql, {by.id, s.job, {}, {}},
                    fmt::format("sends {} to '{}' as {}{} (SHA-256 {})", s.file, place ? place->name : "",
                                s.name, s.to_run ? ", to be run" : ", ahead", s.sha256.substr(0, 16)));
        return s;
    });
}

void Places::note(const std::optional<Person>& by, long long sending, Became became,
                  const std::string& said) {
    database_.write([&](Sql& sql) {
        auto of = select_sendings(sql, "s.id = :id", sending, Bytes::of_open_ones);
        if (of.empty()) return;
        NullableNumber who(by ? std::optional(by->id) : std::nullopt);
        const long long shop = sql.shop(), now = now_ms();
        const std::string word = word_of(became);
        sql << "insert into sending_line (shop, sending_id, became, words, made_ms, made_by) values (:shop, "
               ":of, "
               ":became, :words, :now, :by)",
            soci::use(shop), soci::use(sending), soci::use(word), soci::use(said), soci::use(now),
            soci::use(who.value, who.state);
        const auto place = place_by_id(sql, of.front().place);
        store::note(sql, {who.get(), of.front().job, {}, {}},
                    fmt::format("{} at '{}': {}{}", of.front().name, place ? place->name : "", word,
                                said.empty() ? "" : ": " + said));
    });
}

std::optional<Sending> Places::sending(long long id) {
    return database_.read([&](Sql& sql) -> std::optional<Sending> {
        auto found = select_sendings(sql, "s.id = :id", id, Bytes::all);
        return found.empty() ? std::nullopt : std::optional(std::move(found.front()));
    });
}

std::vector<Sending> Places::at_place(long long place) {
    return database_.read(
        [&](Sql& sql) { return select_sendings(sql, "s.place_id = :place", place, Bytes::of_open_ones); });
}

std::vector<Sending> Places::of_head(long long job, const std::string& head) {
    return database_.read([&](Sql& sql) {
        auto all = select_sendings(sql, "s.job_id = :job", job, Bytes::of_open_ones);
        std::erase_if(all, [&](const auto& one) { return one.head != head; });
        return all;
    });
}

}  // namespace seatwright::store
