#include "seatwright/report/stood_by.hpp"

#include "seatwright/words/english_report.hpp"

namespace seatwright::report {
namespace {

// With who said so and when, where that is known.
Sentence said_by(Sentence what, const std::string& who) {
    return who.empty() ? what : sentence<"said-by">("what"_is = std::move(what), "who"_is = who);
}

template <class Reading>
std::string who_and_when(const Reading& reading) {
    if (reading.date.empty()) return reading.by;
    return reading.by.empty() ? reading.date : reading.by + ", " + reading.date;
}

class Said {
  public:
    explicit Said(const std::string& head) : head_(head) {}

    template <class Reading>
    void readings(const Sentence& what, const GrowingList<Reading>& all) {
        for (const Reading& reading : all)
            if (reading.sure && reading.head == head_)
                out.push_back(said_by(sentence<"right-as-read">("what"_is = what, "valve"_is = reading.valve),
                                      who_and_when(reading)));
    }

    void kept(const job::Touch& touch) {
        if (touch.keep && touch.head == head_)
            out.push_back(said_by(sentence<"kept-by-word">("valve"_is = touch.valve), who_and_when(touch)));
    }

    std::vector<Sentence> out;

  private:
    const std::string& head_;
};

}  // namespace

std::vector<Sentence> stood_by(const job::Job& job, const std::string& head) {
    Said said(head);
    for (const job::Sure& sure : job.sure)
        said.out.push_back(said_by(as_it_stands(sure.words), sure.said_by));
    for (const job::Touch& touch : job.readings.touches) said.kept(touch);
    said.readings(sentence<"a-touch">(), job.readings.touches);
    said.readings(sentence<"a-level">(), job.readings.levels);
    said.readings(sentence<"bore-of-guide">(), job.readings.guides);
    said.readings(sentence<"seat-before">(), job.readings.seats);
    said.readings(sentence<"first-seat">(), job.readings.firsts);
    said.readings(sentence<"seat-after">(), job.readings.proofs);
    return said.out;
}

}  // namespace seatwright::report
