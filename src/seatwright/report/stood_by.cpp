#include "seatwright/report/stood_by.hpp"

#include <fmt/format.h>

namespace seatwright::report {
namespace {

class Said {
  public:
    explicit Said(const std::string& head) : head_(head) {}

    template <class Reading>
    void readings(const char* what, const GrowingList<Reading>& all) {
        for (const Reading& reading : all)
            if (reading.sure) add(what, reading, "right as read");
    }

    template <class Reading>
    void add(const char* what, const Reading& reading, const char* said) {
        if (reading.head != head_) return;
        std::string who = reading.by;
        if (!reading.date.empty()) who += (who.empty() ? "" : ", ") + reading.date;
        out.push_back(fmt::format("{} of {}: {}{}", what, reading.valve, said,
                                  who.empty() ? std::string() : fmt::format(" ({})", who)));
    }

    std::vector<std::string> out;

  private:
    const std::string& head_;
};

}  // namespace

std::vector<std::string> stood_by(const job::Job& job, const std::string& head) {
    Said said(head);
    for (const job::Sure& sure : job.sure)
        said.out.push_back(sure.said_by.empty() ? sure.words
                                                : fmt::format("{} ({})", sure.words, sure.said_by));
    for (const job::Touch& touch : job.readings.touches)
        if (touch.keep) said.add("touch", touch, "kept, the machinist stands by it");
    said.readings("touch", job.readings.touches);
    said.readings("level", job.readings.levels);
    said.readings("bore of guide", job.readings.guides);
    said.readings("seat before cutting", job.readings.seats);
    said.readings("first seat", job.readings.firsts);
    said.readings("seat after cutting", job.readings.proofs);
    return said.out;
}

}  // namespace seatwright::report
