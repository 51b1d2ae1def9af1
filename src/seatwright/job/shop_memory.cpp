#include "seatwright/job/shop_memory.hpp"

#include <algorithm>
#include <deque>
#include <mutex>

namespace seatwright::job {

namespace {

// A shelf is some tens of kilobytes; larger texts than this are not kept.
constexpr std::size_t most_kept = 4, largest_kept = 1'000'000;

struct Kept {
    std::string text, file;
    LengthUnit inherited;
    std::shared_ptr<const Walked> walked;
};

class Memory {
  public:
    std::shared_ptr<const Walked> find(const std::string& text, const std::string& file,
                                       LengthUnit inherited) {
        const std::lock_guard<std::mutex> lock(mutex_);
        const auto at = std::find_if(kept_.begin(), kept_.end(), [&](const Kept& k) {
            return k.inherited == inherited && k.file == file && k.text == text;
        });
        return at == kept_.end() ? nullptr : at->walked;
    }

    void keep(Kept one) {
        const std::lock_guard<std::mutex> lock(mutex_);
        kept_.push_front(std::move(one));
        if (kept_.size() > most_kept) kept_.pop_back();
    }

  private:
    std::mutex mutex_;
    std::deque<Kept> kept_;
};

}  // namespace

std::shared_ptr<const Walked> walked_shop(const std::string& text, const std::string& file,
                                          LengthUnit inherited) {
    static Memory memory;
    if (auto known = memory.find(text, file, inherited)) return known;
    auto walked = std::make_shared<const Walked>(walk_file(text, file, FileKind::shop, inherited));
    if (text.size() <= largest_kept) memory.keep({text, file, inherited, walked});
    return walked;
}

}  // namespace seatwright::job
