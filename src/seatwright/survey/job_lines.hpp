// Lines of a job file that a head description is written in: figures with what is to be known of them behind,
// as a comment.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

class JobLines {
  public:
    explicit JobLines(LengthUnit units) : units_(units) {}

    void line(const std::string& text) { out_ += text + "\n"; }
    // `key = value     # comment`
    void figure(const std::string& key, const std::string& value, const std::string& comment);
    // title, units and, where given, other keys of the file as a whole.
    void title(const std::string& title);

    // What repeats and what is still to be asked or read, as comments.
    void notes(const std::vector<Repeat>& repeats, const std::vector<Missing>& missing);
    // tilt and swing of a fixture that takes in these angles, deg, by whole degrees; a swing of hardly
    // anything is none.
    void reach(double tilt_low, double tilt_high, double swing_low, double swing_high);

    // A length as a bare number in the job's unit, 0.1 um and finer.
    std::string length(double mm) const;
    std::string u_words(double mm) const;  // "u = 0.02 mm"
    LengthUnit units() const { return units_; }
    std::string take() { return std::move(out_); }

    // A name in a comment stays on its line.
    static std::string comment_text(std::string text);
    // The kind a job is written with: where it is not known, that of the name it was given ("1I").
    static job::Kind kind_or_named(const std::optional<job::Kind>& kind, const std::string& id);

  private:
    LengthUnit units_;
    std::string out_;
};

}  // namespace seatwright::survey
