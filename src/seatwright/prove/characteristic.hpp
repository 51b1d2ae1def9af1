// What one characteristic of one kind of seat came to over the heads, kept while seats are judged anew: a
// head costs itself and the sums above it in the tree.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/numerics/moments.hpp"
#include "seatwright/prove/head_columns.hpp"
#include "seatwright/prove/head_sums.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// One head's values, by valve in head order.
struct HeadValues {
    double number = 0;  // of the head on the drift's axis
    std::vector<std::size_t> valves;
    std::vector<double> values;
    std::vector<std::string> cutters, pilots;  // of each value; empty = not said, not known
    bool operator==(const HeadValues&) const = default;
    // Said last of all; empty = not said.
    const std::string& cutter() const;
};

numerics::Moments moments_of(const std::vector<double>& values);

// What a series is made of.
struct SeriesSums {
    numerics::Moments values;
    numerics::PairMoments drift;             // value over the head's number
    double heads = 0;                        // with a value
    std::size_t least = SIZE_MAX, most = 0;  // values a head
    double ranges = 0, sds = 0;              // of each head's values, added up
    double squares = 0, spare = 0;           // within heads, and their degrees of freedom
};
SeriesSums operator+(const SeriesSums& a, const SeriesSums& b);

// What its variation is parted by: of the heads in which every position was measured.
struct RowSums {
    numerics::Moments heads;                                                    // of their means
    std::map<std::string, numerics::Moments> by_cutter;                         // the same
    std::map<std::size_t, numerics::Moments> rest;                              // value less the head's mean
    std::map<std::pair<std::string, std::size_t>, numerics::Moments> by_pilot;  // the same, by valve too
};
RowSums operator+(RowSums a, const RowSums& b);

struct ByValve {
    std::map<std::size_t, numerics::Moments> of;
};
ByValve operator+(ByValve a, const ByValve& b);

class Characteristic {
  public:
    // `wanted`: the value from which the worst seat lies furthest; none where the largest is the worst.
    Characteristic(std::string what, job::Kind kind, bool parted, std::optional<double> wanted = std::nullopt)
        : what_(std::move(what)), kind_(kind), parted_(parted), wanted_(wanted) {}

    const std::string& what() const { return what_; }  // "runout", "width", "stem height", …
    job::Kind kind() const { return kind_; }
    bool is_parted() const { return parted_; }

    // In place of what the head had; the next head in order is new.
    void set(std::size_t head, HeadValues values);

    const std::vector<HeadValues>& by_head() const { return by_head_; }
    // Over all heads, and over those from one on.
    SeriesSums sums();
    SeriesSums sums_from(std::size_t head);
    // Of the heads with values; `called`: the names of all heads.
    const HeadColumns& columns(const std::vector<std::string>& called);
    // Where its variation is parted:
    RowSums rows();
    ByValve by_valve();

    // What was made of it, until a value changes.
    std::optional<std::shared_ptr<const Series>> series;
    std::optional<std::vector<Position>> positions;
    std::optional<std::vector<Component>> components;

  private:
    RowSums row_of(std::size_t head) const;
    void settle();

    std::string what_;
    job::Kind kind_;
    bool parted_;
    std::optional<double> wanted_;
    std::vector<HeadValues> by_head_;
    std::map<std::size_t, std::size_t> values_at_;  // by valve, how many
    std::vector<std::size_t> changed_;              // heads the sums do not know yet
    bool other_positions_ = false;
    HeadColumns columns_;
    std::size_t columns_to_ = 0;  // heads before it stand in the columns as they are
    HeadSums<SeriesSums> series_;
    HeadSums<RowSums> rows_;
    HeadSums<ByValve> by_valve_;
};

}  // namespace seatwright::prove
