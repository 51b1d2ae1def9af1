#include "seatwright/report/attitude.hpp"

#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_report.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::report {

bool is_swung(const hold::Setup& setup) {
    return shows_in_degrees(setup.swing);
}

Sentence attitude_of(const hold::Setup& setup) {
    const auto tilt = "tilt"_is = as_bare_degrees(setup.tilt);
    return is_swung(setup) ? sentence<"tilt-and-swing">(tilt, "swing"_is = as_bare_degrees(setup.swing))
                           : sentence<"tilt">(tilt);
}

std::string attitude_words(const hold::Setup& setup) {
    return in_words(attitude_of(setup), {});
}

}  // namespace seatwright::report
