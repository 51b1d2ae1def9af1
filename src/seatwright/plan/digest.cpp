#include "seatwright/plan/digest.hpp"

#include <fmt/format.h>

#include "seatwright/base/sha256.hpp"
#include "seatwright/base/version.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::plan {

namespace {

template <class Readings>
void add_readings(std::string& text, const Readings& readings, const std::string& head) {
    for (const auto& reading : job::of_head(readings, head)) text += job::to_toml(reading, LengthUnit::mm);
}

std::string learned_words(const find::Find& find) {
    std::string out;
    for (const auto& learned : find.learned)
        out += fmt::format("learned {} {:.9g} {:.9g} {:.9g} {:.9g}\n", learned.valve, learned.mean.x(),
                           learned.mean.y(), learned.scatter, learned.dof);
    return out;
}

}  // namespace

std::string digest_of(const job::Job& job, const find::Find& find, const std::string& head,
                      const job::Selection& selection) {
    std::string text = fmt::format("seatwright {}\nhead {}\n", version, head) + job.given;
    add_readings(text, job.readings.touches, head);
    add_readings(text, job.readings.levels, head);
    add_readings(text, job.readings.guides, head);
    add_readings(text, job.readings.seats, head);
    if (selection.from) add_readings(text, job.readings.proofs, head);
    // A plan made anew after a first seat is another plan.
    for (const job::FirstSeat& first : job::of_head(job.readings.firsts, head))
        if (first.plan == job::AfterFirst::anew) text += job::to_toml(first, LengthUnit::mm);
    text += learned_words(find);
    return sha256(text).substr(0, digest_letters);
}

}  // namespace seatwright::plan
