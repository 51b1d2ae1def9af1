#include "server/intake/six_answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "server/intake/said_right.hpp"
#include "server/jobs/on_the_shelf.hpp"

namespace seatwright::server {

namespace {

// Reads one object of answers; remembers the first thing wrong.
class GivenAnswers {
  public:
    explicit GivenAnswers(const Json& json) : json_(json) {}

    const Json* at(const std::string& pointer) const {
        const Json::json_pointer where(pointer);
        if (!json_.is_object() || !json_.contains(where) || json_.at(where).is_null()) return nullptr;
        return &json_.at(where);
    }
    std::optional<double> number(const std::string& pointer, job::Range range, const std::string& what) {
        const Json* value = at(pointer);
        if (value == nullptr) return std::nullopt;
        if (value->is_number() && range.contains(value->get<double>())) return value->get<double>();
        wrong(fmt::format("{} is a number from {:.4g} to {:.4g}", what, range.low, range.high));
        return std::nullopt;
    }
    // A figure of that key of the table, in `unit`s of its bare unit.
    std::optional<double> figure(const std::string& pointer, const std::string& key, const std::string& what,
                                 double unit = 1) {
        const job::Bounds& taken = job::key_at(key)->new_head;
        return number(pointer, {taken.low / unit, taken.high / unit}, what);
    }
    // The last word of `words` if nothing is said.
    std::string word(const std::string& pointer, const std::vector<std::string>& words,
                     const std::string& what) {
        const Json* value = at(pointer);
        if (value == nullptr) return words.back();
        for (const auto& one : words)
            if (*value == one) return one;
        wrong(fmt::format("{} is {}", what, fmt::join(words, " or ")));
        return words.back();
    }
    void wrong(const std::string& sentence) {
        if (fault_.empty()) fault_ = sentence;
    }
    const std::string& fault() const { return fault_; }

  private:
    const Json& json_;
    std::string fault_;
};

int valves_per_cylinder(GivenAnswers& given) {
    job::PerKind<int> count;
    for (const job::Kind kind : job::both_kinds) {
        const auto n = given.number(fmt::format("/valves/{}", job::kind_word(kind)), {1, 4},
                                    fmt::format("the number of {} valves a cylinder", job::kind_word(kind)));
        count[kind] = static_cast<int>(std::lround(n.value_or(1)));
    }
    using Pair = job::PerKind<int>;
    if (count != Pair{1, 1} && count != Pair{2, 1} && count != Pair{2, 2} && count != Pair{3, 2})
        given.wrong(
            "the six questions know 1 and 1, 2 and 1, 2 and 2, or 3 intake and 2 exhaust valves a cylinder; "
            "other heads come from a file");
    return count.intake + count.exhaust;
}

job::Order order_of(GivenAnswers& given) {
    const std::string first = given.word("/order/first", {"intake", "exhaust"}, "the first valve");
    const bool mirrored =
        given.word("/order/alternate", {"mirrored", "same"}, "every second cylinder") == "mirrored";
    if (mirrored) return job::Order::mirrored;
    return first == "intake" ? job::Order::intake_first : job::Order::exhaust_first;
}

job::Answers answers_of(GivenAnswers& given, double mm) {
    job::Answers a;
    const Json* title = given.at("/title");
    a.title = title != nullptr && title->is_string() && !title->get<std::string>().empty()
                  ? title->get<std::string>()
                  : "New head";
    a.units = mm == 1 ? LengthUnit::mm : LengthUnit::inch;
    a.shop = "shelf";
    const auto cylinders = given.figure("/cylinders", "head.pattern.cylinders", "the number of cylinders");
    const auto spacing = given.figure("/bore_spacing", "head.pattern.bore_spacing", "the bore spacing", mm);
    if (!cylinders) given.wrong("how many cylinders?");
    if (!spacing) given.wrong("how far apart are the bores?");
    a.cylinders = static_cast<int>(std::lround(cylinders.value_or(1)));
    a.bore_spacing = spacing.value_or(100 / mm) * mm;
    a.valves_per_cylinder = valves_per_cylinder(given);
    a.order = order_of(given);
    for (const job::Kind kind : job::both_kinds) {
        const std::string angles = fmt::format("/angles/{}", job::kind_word(kind)),
                          sizes = fmt::format("/sizes/{}", job::kind_word(kind));
        const auto length = [&](const std::string& pointer, const std::string& key, const std::string& what) {
            const auto number = given.figure(pointer, key, what, mm);
            return number ? std::optional(*number * mm) : std::nullopt;
        };
        const auto angle = [&](const std::string& pointer, const std::string& key, const std::string& what) {
            const auto number = given.figure(pointer, key, what);
            return number ? std::optional(rad(*number)) : std::nullopt;
        };
        a.incline[kind] = angle(angles + "/incline", "head.pattern.valve[].incline", "an incline in degrees");
        a.cant[kind] = angle(angles + "/cant", "head.pattern.valve[].cant", "a cant in degrees");
        a.head_diameter[kind] =
            length(sizes + "/head_diameter", "valve.*.head_diameter", "a valve's head diameter");
        a.stem_diameter[kind] = length(sizes + "/stem_diameter", "valve.*.stem_diameter", "a stem diameter");
        a.seat_angle[kind] = angle(sizes + "/seat_angle", "seat.*.angle", "a seat angle in degrees");
        a.seat_width[kind] = length(sizes + "/seat_width", "seat.*.width", "a seat width");
    }
    return a;
}

}  // namespace

store::Answer<std::string> text_of_answers(const Json& json, const std::string& shop) {
    GivenAnswers given(json);
    const double mm = given.word("/units", {"in", "mm"}, "units") == "in" ? mm_per_inch : 1;
    const job::Answers answers = answers_of(given, mm);
    if (!given.fault().empty()) return store::refuse(store::Why::bad, given.fault());
    auto text = on_the_shelf(job::new_job(answers), shop);
    const Json* sure = given.at("/sure");
    if (!text || sure == nullptr) return text;
    text = with_sure(*text, *sure, answers.units, shop);
    // No fixture holds what is asked about: it is chosen once more.
    return text ? on_the_shelf(*text, shop) : text;
}

}  // namespace seatwright::server
