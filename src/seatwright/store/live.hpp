// Which of the recorded entries count. Pure.
//
// - A correction sets aside the entry it names, unless it has itself been taken back: taking back a
// correction
//   brings the corrected entry back. A correction that is `withdrawn` gives no value of its own.
// - A place is (kind, head, valve) and a quantity: a touch, a level (each way of reading), a guide's three
//   bores are one quantity each; of a seat and a proof each key is one. Two counting entries with different
//   values for one place are in conflict: both stay, the first stored is used until a person chooses.
// - A choice sets aside the other entries of the chosen entry's places that were on record when it was made.
//   They stay aside when the chosen entry is corrected or withdrawn later: the place is then open, to be read
//   anew.
// - Entries marked `repeat` and unlabelled touches are all used.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <unordered_set>
#include <vector>

#include "seatwright/base/growing_list.hpp"
#include "seatwright/store/entry.hpp"

namespace seatwright::store {

// What became of one entry, by the index it has in the list.
struct Standing {
    bool live = false;      // it counts (in conflict or not)
    bool conflict = false;  // somebody should choose
    std::optional<long long> superseded_by;
    std::vector<std::string> used;  // the quantities of it that computing uses: "touch", "stem_height"
};

// Of what there can be one value: never told from a text that is split, for a head may be called 6/1.
struct Place {
    EntryKind kind = EntryKind::touch;
    std::string head, valve;
    std::string quantity;  // "stem_height"; of a level its way too: "incline/level"
    auto operator<=>(const Place&) const = default;
};
// "seat/1/2E/stem_height": for people.
std::string to_words(const Place& place);

struct Conflict {
    Place place;
    std::vector<long long> entries;
    long long used = 0;
};

struct Resolution {
    GrowingList<Standing> standing;  // one an entry, same order
    std::vector<Conflict> conflicts;
};

// `entries` of one job in order of sequence.
Resolution resolve(std::span<const Entry> entries);

// The resolution of one job's entries, kept while more come in: one that gives a first value for its places
// costs no more than itself; one that corrects, chooses or says another value for a place is resolved with
// all.
class RunningResolution {
  public:
    // Of all `entries`, of which those known from before stand first; the same as resolve() gives.
    const Resolution& take(std::span<const Entry> entries);

  private:
    bool took(const Entry& entry);
    Resolution resolution_;
    long long last_ = 0;                       // id of the last entry taken
    std::unordered_set<std::string> claimed_;  // places with quantity that some entry gives a value for
};

// The quantities an entry of that kind gives values for.
std::vector<std::string> quantities_of(const NewEntry& entry);
// "touch/1/1I", "level/1/1I/incline"; without the quantity, for people.
std::string place_of(const NewEntry& entry);

}  // namespace seatwright::store
