#include "server/intake/six_answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "server/jobs/on_the_shelf.hpp"

namespace seatwright::server {

namespace {

constexpr double steepest = 79;  // deg; the reader takes less than 80

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
    const auto cylinders = given.number("/cylinders", {1, 16}, "the number of cylinders");
    const auto spacing = given.number("/bore_spacing", {20 / mm, 2000 / mm}, "the bore spacing");
    if (!cylinders) given.wrong("how many cylinders?");
    if (!spacing) given.wrong("how far apart are the bores?");
    a.cylinders = static_cast<int>(std::lround(cylinders.value_or(1)));
    a.bore_spacing = spacing.value_or(100 / mm) * mm;
    a.valves_per_cylinder = valves_per_cylinder(given);
    a.order = order_of(given);
    for (const job::Kind kind : job::both_kinds) {
        const std::string angles = fmt::format("/angles/{}", job::kind_word(kind)),
                          sizes = fmt::format("/sizes/{}", job::kind_word(kind));
        const auto of = [&](const std::string& pointer, job::Range range, const std::string& what,
                            double unit) -> std::optional<double> {
            const auto number = given.number(pointer, range, what);
            return number ? std::optional(*number * unit) : std::nullopt;
        };
        a.incline[kind] = of(angles + "/incline", {-steepest, steepest}, "an incline in degrees", rad(1));
        a.cant[kind] = of(angles + "/cant", {-steepest, steepest}, "a cant in degrees", rad(1));
        a.head_diameter[kind] =
            of(sizes + "/head_diameter", {3 / mm, 500 / mm}, "a valve's head diameter", mm);
        a.stem_diameter[kind] = of(sizes + "/stem_diameter", {2 / mm, 40 / mm}, "a stem diameter", mm);
        a.seat_angle[kind] = of(sizes + "/seat_angle", {16, 64}, "a seat angle in degrees", rad(1));
        a.seat_width[kind] = of(sizes + "/seat_width", {0.1 / mm, 20 / mm}, "a seat width", mm);
    }
    return a;
}

}  // namespace

store::Answer<std::string> text_of_answers(const Json& json, const std::string& shop) {
    GivenAnswers given(json);
    const double mm = given.word("/units", {"in", "mm"}, "units") == "in" ? mm_per_inch : 1;
    const job::Answers answers = answers_of(given, mm);
    if (!given.fault().empty()) return store::refuse(store::Why::bad, given.fault());
    return on_the_shelf(job::new_job(answers), shop);
}

}  // namespace seatwright::server
