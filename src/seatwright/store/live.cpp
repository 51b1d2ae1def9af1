#include "seatwright/store/live.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "seatwright/store/same_reading.hpp"

namespace seatwright::store {

namespace {

using Standings = GrowingList<Standing>;

// Keys of a proof that belong to another quantity or describe the measuring, not the part.
bool is_attribute(const std::string& key) {
    return key == "by" || key == "gauge_u" || key == "resolution" || key == "angles" || key == "date" ||
           key == "gauge" || key == "calibrated";
}

bool always_used(const NewEntry& e) {
    return e.repeat || e.valve == "?";
}

// Entries set aside by a correction. A correction that was itself corrected still keeps aside what it named;
// one that was taken back does not. Corrections name earlier entries only, so one pass from the last to the
// first settles it.
void set_aside_corrected(std::span<const Entry> entries, Standings& standing) {
    std::map<long long, std::size_t> index;
    for (std::size_t i = 0; i < entries.size(); ++i) index[entries[i].id] = i;
    std::vector<bool> taken_back(entries.size());
    for (std::size_t i = entries.size(); i-- > 0;) {
        if (!entries[i].corrects || taken_back[i]) continue;
        const auto found = index.find(*entries[i].corrects);
        if (found == index.end() || found->second >= i) continue;
        standing[found->second].superseded_by = entries[i].id;
        if (entries[i].withdrawn) taken_back[found->second] = true;
    }
}

struct Claim {
    std::size_t entry = 0;
    std::string quantity;
};
using Places = std::map<Place, std::vector<Claim>>;  // claims in order

// The way a level was read; empty for anything else.
std::string way_of(const NewEntry& entry) {
    if (entry.kind != EntryKind::level) return {};
    const auto across = entry.values.find("across");
    return across != entry.values.end() && across->is_string() ? across->get<std::string>() : "incline";
}

Place place_of(const NewEntry& e, const std::string& quantity) {
    const std::string way = way_of(e);
    return {e.kind, e.head, e.valve, way.empty() ? quantity : way + "/" + quantity};
}

Places places_of(std::span<const Entry> entries, Standings& standing) {
    Places places;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const Entry& e = entries[i];
        if (!is_reading(e.kind) || e.withdrawn || standing[i].superseded_by) continue;
        for (const auto& quantity : quantities_of(e)) {
            if (always_used(e)) {
                standing[i].live = true;
                standing[i].used.push_back(quantity);
            } else {
                places[place_of(e, quantity)].push_back({i, quantity});
            }
        }
    }
    return places;
}

long long chosen_by(const Entry& choice) {
    const auto chosen = choice.values.find("chosen");
    return chosen != choice.values.end() && chosen->is_number_integer() ? chosen->get<long long>() : 0;
}

// Place → the newest standing choice at it: which entry it took and which entry it is.
struct Choice {
    std::size_t chosen = 0, made = 0;
};
using Choices = std::map<Place, Choice>;

// At every place of the entry chosen, also when that was corrected or withdrawn since: what was set aside
// beside it does not come back unasked.
Choices standing_choices(std::span<const Entry> entries, const Standings& standing) {
    std::map<long long, std::size_t> index;
    for (std::size_t i = 0; i < entries.size(); ++i) index[entries[i].id] = i;
    Choices choices;
    for (std::size_t made = 0; made < entries.size(); ++made) {
        if (entries[made].kind != EntryKind::choice || standing[made].superseded_by) continue;
        const auto chosen = index.find(chosen_by(entries[made]));
        if (chosen == index.end() || chosen->second >= made) continue;
        const Entry& taken = entries[chosen->second];
        const auto& corrected = standing[chosen->second].superseded_by;
        if (always_used(taken) || (corrected && index.at(*corrected) < made))
            continue;  // it gave no value then
        for (const auto& quantity : quantities_of(taken))
            choices[place_of(taken, quantity)] = {chosen->second, made};
    }
    return choices;
}

// Drops the other claims that were there when the choice was made.
void apply_choice(std::span<const Entry> entries, const Choice& choice, Standings& standing,
                  std::vector<Claim>& claims) {
    std::erase_if(claims, [&](const Claim& claim) {
        const bool drop = claim.entry != choice.chosen && claim.entry < choice.made;
        if (drop) standing[claim.entry].superseded_by = entries[choice.made].id;
        return drop;
    });
}

void settle(std::span<const Entry> entries, Standings& standing, const Place& place,
            const std::vector<Claim>& claims, std::vector<Conflict>& conflicts) {
    const Claim& first = claims.front();
    standing[first.entry].live = true;
    standing[first.entry].used.push_back(first.quantity);
    Conflict conflict{place, {entries[first.entry].id}, entries[first.entry].id};
    for (std::size_t i = 1; i < claims.size(); ++i) {
        Standing& other = standing[claims[i].entry];
        if (same_quantity(entries[first.entry], entries[claims[i].entry], first.quantity)) {
            if (!other.live) other.superseded_by = entries[first.entry].id;
            continue;
        }
        other.live = true;
        other.conflict = true;
        other.superseded_by.reset();
        conflict.entries.push_back(entries[claims[i].entry].id);
    }
    if (conflict.entries.size() < 2) return;
    standing[first.entry].conflict = true;
    conflicts.push_back(std::move(conflict));
}

}  // namespace

std::vector<std::string> quantities_of(const NewEntry& entry) {
    if (entry.kind == EntryKind::touch || entry.kind == EntryKind::level || entry.kind == EntryKind::guide)
        return {name_of(entry.kind)};
    std::vector<std::string> keys;
    if (is_reading(entry.kind))
        for (const auto& [key, value] : entry.values.items())
            if (!is_attribute(key)) keys.push_back(key);
    return keys;
}

std::string to_words(const Place& place) {
    return fmt::format("{}/{}/{}/{}", name_of(place.kind), place.head, place.valve, place.quantity);
}

std::string place_of(const NewEntry& entry) {
    const std::string place = fmt::format("{}/{}/{}", name_of(entry.kind), entry.head, entry.valve);
    const std::string way = way_of(entry);
    return way.empty() ? place : place + "/" + way;
}

Resolution resolve(std::span<const Entry> entries) {
    Resolution result;
    result.standing.resize(entries.size());
    set_aside_corrected(entries, result.standing);
    for (std::size_t i = 0; i < entries.size(); ++i)
        if (!is_reading(entries[i].kind))
            result.standing[i].live = !result.standing[i].superseded_by && !entries[i].withdrawn;
    std::vector<bool> corrected(entries.size());
    for (std::size_t i = 0; i < entries.size(); ++i)
        corrected[i] = result.standing[i].superseded_by.has_value();
    const Choices choices = standing_choices(entries, result.standing);
    for (auto& [place, claims] : places_of(entries, result.standing)) {
        if (const auto choice = choices.find(place); choice != choices.end())
            apply_choice(entries, choice->second, result.standing, claims);
        if (!claims.empty()) settle(entries, result.standing, place, claims, result.conflicts);
    }
    // An entry that gives several quantities may have lost one and still count for another.
    for (std::size_t i = 0; i < entries.size(); ++i)
        if (!corrected[i] && !result.standing[i].used.empty()) {
            result.standing[i].live = true;
            result.standing[i].superseded_by.reset();
        }
    return result;
}

bool RunningResolution::took(const Entry& entry) {
    if (entry.corrects || entry.kind == EntryKind::choice) return false;
    Standing standing;
    if (!is_reading(entry.kind)) standing.live = !entry.withdrawn;
    if (is_reading(entry.kind) && !entry.withdrawn) {
        auto quantities = quantities_of(entry);
        if (!always_used(entry)) {
            const std::string place = place_of(entry) + "/";
            for (const auto& quantity : quantities)
                if (claimed_.contains(place + quantity)) return false;
            for (const auto& quantity : quantities) claimed_.insert(place + quantity);
            std::sort(quantities.begin(), quantities.end());  // as places are settled
        }
        standing.live = !quantities.empty();
        standing.used = std::move(quantities);
    }
    resolution_.standing.push_back(std::move(standing));
    return true;
}

const Resolution& RunningResolution::take(std::span<const Entry> entries) {
    const std::size_t known = resolution_.standing.size();
    bool follows = known <= entries.size() && (known == 0 || entries[known - 1].id == last_);
    for (std::size_t i = known; follows && i < entries.size(); ++i) follows = took(entries[i]);
    last_ = entries.empty() ? 0 : entries.back().id;
    if (follows) return resolution_;
    resolution_ = resolve(entries);
    claimed_.clear();
    for (const Entry& entry : entries)
        if (is_reading(entry.kind) && !always_used(entry))
            for (const auto& quantity : quantities_of(entry))
                claimed_.insert(place_of(entry) + "/" + quantity);
    return resolution_;
}

}  // namespace seatwright::store
