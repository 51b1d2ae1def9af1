// The groups of a DXF file, one after the other: a code and a value, whether the file is text (two lines a
// group) or binary. Nothing of what they mean.
//
// A file that is neither, that ends within a group or whose values are not what their code says stops with
// one fault that names the line (of text) or the byte (of a binary file).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"

namespace seatwright::drawing {

struct CodedValue {
    int code = -1;
    std::string_view text;  // as written; of a binary file's numbers empty
    double number = 0;      // of codes that hold a number
    bool operator==(const CodedValue&) const = default;
};

// What a code's value is, by the published table of group codes.
enum class Holds { text, real, whole, bytes };
Holds holds(int code);

class Groups {
  public:
    // `bytes` must outlive this. Error: not DXF at all.
    static Checked<Groups> open(std::string_view bytes, const std::string& file);

    // The next group; none after the last one or at a fault.
    std::optional<CodedValue> next();
    // Puts the last group back: next() gives it again.
    void back() { again_ = true; }

    const Faults& faults() const { return faults_; }
    bool broken() const { return !faults_.empty(); }
    void fault(const std::string& text);

    // The finest place any coordinate or radius of a text file is written to, in the drawing's unit (whole
    // numbers alone are meant to a tenth); of a binary file 0.
    double finest() const { return finest_; }
    // "line 17" or "byte 1200", where the last group begins.
    std::string place() const;

  private:
    static constexpr double coarsest = 0.1;
    std::optional<CodedValue> next_of_text();
    std::optional<CodedValue> next_binary();
    std::optional<std::string_view> line();
    std::optional<std::string_view> take(std::size_t bytes);
    void note_place_of(std::string_view number);

    std::string file_;
    std::string_view bytes_;
    std::size_t at_ = 0, begin_ = 0;
    int line_ = 0, begin_line_ = 0;
    bool binary_ = false, short_codes_ = false, again_ = false, round_ = false;
    CodedValue last_{};
    double finest_ = coarsest;
    Faults faults_;
};

}  // namespace seatwright::drawing
