// Where a value stands, by names, spelt out only when it is to be told.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace seatwright::job {

// A chain up to the root of a file; each link must outlive those below it, and a name its link.
class KeyPath {
  public:
    KeyPath() = default;  // the root
    KeyPath(const KeyPath& above, std::string_view name) : above_(&above), name_(name) {}
    KeyPath(const KeyPath& above, std::size_t index) : above_(&above), index_(index) {}

    // "reading.touch[2].x"; empty for the root.
    std::string text() const {
        if (above_ == nullptr) return "";
        std::string out = above_->text();
        if (index_) return out + "[" + std::to_string(*index_) + "]";
        if (!out.empty()) out += '.';
        return out += name_;
    }

  private:
    const KeyPath* above_ = nullptr;
    std::string_view name_;
    std::optional<std::size_t> index_;
};

}  // namespace seatwright::job
