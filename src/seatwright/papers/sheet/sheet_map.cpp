// The map of many seats, side by side.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "seatwright/job/kind_index.hpp"
#include "seatwright/papers/sheet/seat_lines.hpp"
#include "seatwright/papers/sheet/seats_of.hpp"
#include "seatwright/papers/sheet/sheet_seats.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// The different things said of the seats, in order of first use. One that all share needs no column of its
// own.
class Key {
  public:
    std::size_t of(const std::string& words) {
        const auto at = std::find(words_.begin(), words_.end(), words);
        if (at != words_.end()) return static_cast<std::size_t>(at - words_.begin());
        words_.push_back(words);
        return words_.size() - 1;
    }
    bool one() const { return words_.size() <= 1; }
    const std::vector<std::string>& all() const { return words_; }
    List legend() const {  // "1: F 8.00; 2: F 8.01"
        List parts{Join::semicolons, {}};
        for (std::size_t k = 0; k < words_.size(); ++k)
            parts.items.emplace_back(sentence<"numbered">("number"_is = k + 1, "what"_is = words_[k]));
        return parts;
    }

  private:
    std::vector<std::string> words_;
};

std::string speed_words(const SeatLine& line, const Speech& speech) {
    return in_words(line.cut ? sentence<"speed">("rpm"_is = as_number(line.cut->rpm),
                                                 "feed"_is = as_length(line.cut->feed),
                                                 "turns"_is = as_number(line.cut->dwell_turns, 1))
                             : sentence<"not-cut">(),
                    speech);
}

// "99.92" of "99.92 %": the column's heading has the sign.
std::string chance(const SeatLine& line) {
    std::string words = percent(line.enters);
    if (words.ends_with(" %")) words.resize(words.size() - 2);
    return words;
}

std::string marked(const SeatLine& line) {
    return line.id + (line.datum ? " •" : "") + (line.suspect ? " !" : "");
}

struct Keys {
    Key pilots;
    bool repairs = false;       // a guide is to be repaired: that stands in its row
    std::array<Key, 2> speeds;  // intake, exhaust
    Key all_speeds;
    bool pilot_shared() const { return pilots.one() && !repairs; }
    bool speed_by_kind() const { return speeds[0].one() && speeds[1].one(); }
};

void say_keys(Pages& sheet, const Keys& keys, const Speech& speech) {
    const auto say = [&](const Sentence& words) {
        sheet.sentence(in_words(words, speech), {Ink::line, "•"});
    };
    if (!keys.pilots.all().empty())
        say(keys.pilot_shared() ? sentence<"pilot-of-every">("pilot"_is = keys.pilots.all().front())
                                : sentence<"pilots">("pilots"_is = keys.pilots.legend()));
    if (!keys.speed_by_kind()) {
        say(sentence<"speeds">("speeds"_is = keys.all_speeds.legend()));
        return;
    }
    for (const auto kind : job::both_kinds)
        if (const auto& of_kind = keys.speeds[index_of(kind)].all(); !of_kind.empty())
            say(sentence<"speeds-of">("seats"_is = seats_of(kind), "speed"_is = of_kind.front()));
}

}  // namespace

void tight_seat_table(Pages& sheet, const job::Job& job, const plan::Plan& plan, const Speech& speech) {
    const LengthUnit unit = speech.unit;
    const auto& setups = plan.hold.setups;
    if (setups.empty()) return;
    std::vector<std::vector<SeatLine>> lines;
    Keys keys;
    for (const auto& setup : setups) {
        lines.push_back(seat_lines(job, plan, setup));
        for (const auto& line : lines.back()) {
            if (to_repair(line))
                keys.repairs = true;
            else
                keys.pilots.of(pilot_words(job, line));
            keys.all_speeds.of(speed_words(line, speech));
            if (line.cut)
                keys.speeds[index_of(job.head.valves[line.valve].kind)].of(speed_words(line, speech));
        }
    }
    const std::string u = unit_name(unit);
    const bool grouped = setups.size() <= setups_apart;
    // From a touch the depth says it all; the program's Z stands on the card.
    const bool has_z = job.depth.from != job::DepthFrom::touch;
    PaperTable table;
    const auto column = [&](bool shown, const std::string& heading, Anchor align = Anchor::end) {
        if (shown) table.columns.push_back({heading, align});
    };
    column(!grouped, "setup", Anchor::start);
    column(true, "guide", Anchor::start);
    column(true, "X");
    column(true, "Y");
    column(true, "Z");
    column(!keys.pilot_shared(), "pilot");
    column(true, "enters %");
    column(true, "depth");
    column(has_z, z_heading(job.depth.from));
    column(!keys.speed_by_kind(), "speed");
    for (std::size_t s = 0; s < setups.size(); ++s) {
        if (grouped)
            table.rows.push_back({fmt::format("Setup {}, {}, {}", setups[s].id, attitude_words(setups[s]),
                                              map_source(plan, setups[s]))});
        for (const auto& line : lines[s]) {
            std::vector<std::string> row;
            if (!grouped) row.push_back(setups[s].id);
            row.insert(row.end(), {marked(line), length(line.at.x(), unit), length(line.at.y(), unit),
                                   length(line.z, unit)});
            if (!keys.pilot_shared())
                row.push_back(to_repair(line) ? "REPAIR"
                                              : std::to_string(keys.pilots.of(pilot_words(job, line)) + 1));
            row.push_back(chance(line));
            row.push_back(depth_words(line, unit));
            if (has_z) row.push_back(z_words(line, job.depth.from, unit));
            if (!keys.speed_by_kind())
                row.push_back(std::to_string(keys.all_speeds.of(speed_words(line, speech)) + 1));
            table.rows.push_back(std::move(row));
        }
    }
    std::string heading = fmt::format("Map and depths in {}, each setup from its own datum (•)", u);
    if (!grouped) heading += ", " + map_source(plan);
    sheet.side_by_side(heading, table);
    if (!has_z) sheet.sentence(in_words(sentence<"depths-count">(), speech), {Ink::line, "•"});
    const bool suspect = std::any_of(lines.begin(), lines.end(), [](const auto& of_setup) {
        return std::any_of(of_setup.begin(), of_setup.end(), [](const auto& line) { return line.suspect; });
    });
    if (suspect) sheet.sentence(in_words(sentence<"suspect">(), speech), {Ink::warn, "•"});
    say_keys(sheet, keys, speech);
}

}  // namespace seatwright::papers
