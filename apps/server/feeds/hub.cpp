#include "server/feeds/hub.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <utility>

#include "seatwright/words/english_server.hpp"

namespace seatwright::server {

namespace {

constexpr std::size_t most_said = 5;

Sentence decided(live::Decides by) {
    switch (by) {
        case live::Decides::stillness:
            return sentence<"stood-still">();
        case live::Decides::pedal:
            return sentence<"by-the-pedal">();
        case live::Decides::each:
            return sentence<"by-the-button">();
        case live::Decides::person:
            break;
    }
    return sentence<"by-hand">();
}

Json time_or_null(const std::optional<live::Ms>& at) {
    return at ? Json(store::iso_time(*at)) : Json(nullptr);
}

Json live_json(const live::Reading& reading, const live::WatchSettings& settings) {
    const auto at = std::find_if(settings.channels.begin(), settings.channels.end(),
                                 [&](const auto& one) { return one.what == reading.what; });
    const bool angle = at != settings.channels.end() && at->unit == "deg";
    return {{"what", reading.what},
            {angle ? "value_deg" : "value_mm", reading.value},
            {"raw", reading.raw},
            {"stated", time_or_null(reading.stated)}};
}

Json live_json(const live::Proposed& offered, const live::WatchSettings& settings, long long number,
               const Speech& speech) {
    Json readings = Json::array();
    for (const auto& one : offered.readings) readings.push_back(live_json(one, settings));
    return {{"id", number},
            {"source", offered.source},
            {"by", in_words(decided(offered.by), speech)},
            {"at", store::iso_time(offered.at)},
            {"remark", in_words(offered.remark, speech)},
            {"readings", std::move(readings)}};
}

}  // namespace

live::Ms feed_now() {
    using namespace std::chrono;
    static const auto begun = steady_clock::now();
    static const live::Ms then = duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
    return then + duration_cast<milliseconds>(steady_clock::now() - begun).count();
}

struct Hub::Running {
    explicit Running(const store::FeedRow& of)
        : row(of), settings(feed_of(Json::parse(of.settings), of.name)), watch(settings.watch) {
        thread = std::thread([this] { follow_source(settings.source, listener()); });
    }
    ~Running() {
        over = true;
        thread.join();
    }
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;

    Listener listener() {
        Listener to;
        to.observed = [this](const live::Observation& seen) {
            const std::lock_guard<std::mutex> lock(mutex);
            offer(watch.see(seen, feed_now()));
        };
        to.alive = [this] {
            const std::lock_guard<std::mutex> lock(mutex);
            watch.heard(feed_now());
            trouble = false;
        };
        to.idle = [this] {
            const std::lock_guard<std::mutex> lock(mutex);
            offer(watch.rest(feed_now()));
        };
        to.lost = [this] {
            const std::lock_guard<std::mutex> lock(mutex);
            watch.lost();
        };
        to.said = [this](const Sentence& what) {
            const std::lock_guard<std::mutex> lock(mutex);
            trouble = true;
            if (!said.empty() && said.back().second == what) said.pop_back();
            said.emplace_back(feed_now(), what);
            if (said.size() > most_said) said.pop_front();
        };
        to.devices = [](const live::Devices&) {};
        to.ended = [this] { return over.load(); };
        return to;
    }
    void offer(const std::optional<live::Proposed>& one) {
        if (!one) return;
        offered = *one;
        ++number;
    }

    const store::FeedRow row;
    const FeedSettings settings;
    std::mutex mutex;
    live::Watch watch;
    std::deque<std::pair<live::Ms, Sentence>> said;
    bool trouble = false;  // the last that was said still holds
    std::optional<live::Proposed> offered;
    long long number = 0;  // of what was offered
    std::atomic<bool> over = false;
    std::thread thread;
};

Hub::~Hub() {
    // All are told before the first is waited for.
    for (auto& [id, one] : running_) one->over = true;
}

void Hub::follow_what_is_set_up() {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto rows = feeds_.rows();
    std::erase_if(running_, [&](const auto& one) {
        return std::none_of(rows.begin(), rows.end(), [&](const auto& row) {
            return row.id == one.first && row.version == one.second->row.version;
        });
    });
    for (const auto& row : rows) {
        if (running_.count(row.id) > 0) continue;
        try {
            running_[row.id] = std::make_shared<Running>(row);
        } catch (const HttpError& fault) {
            // Set up by another program than this one: it stands on the Shelf and says nothing.
            spdlog::error(fmt::format("feed {}: {}", row.name, fault.body.value("error", std::string())));
            running_.erase(row.id);
        }
    }
}

std::shared_ptr<Hub::Running> Hub::running(long long feed) {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto at = running_.find(feed);
    if (at == running_.end()) throw http_error(404, "there is no such feed");
    return at->second;
}

Json Hub::now(long long feed, const Speech& speech) {
    const auto of = running(feed);
    const std::lock_guard<std::mutex> lock(of->mutex);
    const auto standing = of->watch.standing(feed_now());
    Json values = Json::array(), refused = Json::array(), said = Json::array();
    for (const auto& [what, reading] : standing.values)
        values.push_back(live_json(reading, of->settings.watch));
    for (const auto& [what, why] : standing.refused) refused.push_back(in_words(why, speech));
    // What stood still and moves again was somewhere else.
    const bool gone =
        of->offered && of->offered->by == live::Decides::stillness && !of->watch.rests(feed_now());
    for (const auto& [at, what] : of->said)
        said.push_back({{"at", store::iso_time(at)}, {"words", in_words(what, speech)}});
    return {{"id", of->row.id},
            {"name", of->row.name},
            {"stale", standing.stale},
            {"remark", in_words(standing.remark, speech)},
            {"values", std::move(values)},
            {"refused", std::move(refused)},
            {"trouble", of->trouble && !of->said.empty() ? Json(in_words(of->said.back().second, speech))
                                                         : Json(nullptr)},
            {"said", std::move(said)},
            {"offered", of->offered && !gone ? live_json(*of->offered, of->settings.watch, of->number, speech)
                                             : Json(nullptr)}};
}

Json Hub::take(long long feed, const Speech& speech) {
    const auto of = running(feed);
    const std::lock_guard<std::mutex> lock(of->mutex);
    const auto taken = of->watch.take(feed_now());
    if (!taken) throw http_error(422, in_words(taken.error(), speech));
    of->offer(*taken);
    return live_json(*of->offered, of->settings.watch, of->number, speech);
}

Json tried(const SourceSettings& source, std::chrono::milliseconds wait, const Speech& speech) {
    constexpr std::size_t most_keys = 500;
    std::map<std::string, live::Observation> newest;
    std::map<std::string, std::string> is;
    std::vector<Sentence> said;
    const auto until = std::chrono::steady_clock::now() + wait;
    Listener to;
    to.observed = [&](const live::Observation& seen) {
        if (newest.size() < most_keys || newest.count(seen.key) > 0) newest[seen.key] = seen;
    };
    to.alive = to.idle = to.lost = [] {};
    to.said = [&](const Sentence& what) {
        if (said.size() < most_said && std::find(said.begin(), said.end(), what) == said.end())
            said.push_back(what);
    };
    to.devices = [&](const live::Devices& devices) {
        for (const auto& item : devices.items)
            is[item.id] = fmt::format("{} {} {} {} {}", item.device, item.component, item.type, item.subtype,
                                      item.units);
    };
    to.ended = [&] { return std::chrono::steady_clock::now() > until; };
    follow_source(source, to);
    Json observed = Json::array();
    for (const auto& [key, seen] : newest)
        observed.push_back({{"key", key},
                            {"raw", seen.raw},
                            {"numbers", seen.numbers.size()},
                            {"unit", seen.unit},
                            {"is", is.count(key) > 0 ? is[key] : ""}});
    return {{"observed", std::move(observed)}, {"said", in_words(said, speech)}};
}

}  // namespace seatwright::server
