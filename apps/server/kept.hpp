// The most recently used few of something that can be made again.
#pragma once

#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <utility>

namespace seatwright::server {

template <class Name, class Value>
class Kept {
  public:
    explicit Kept(std::size_t most) : most_(most) {}

    // The kept one, or `make()` kept from now on. Made outside the lock: two who ask at once may both make
    // it, and the first to finish is kept.
    template <class Make>
    std::shared_ptr<Value> get(const Name& name, Make&& make) {
        if (auto kept = find(name)) return kept;
        std::shared_ptr<Value> made = make();
        const std::lock_guard<std::mutex> lock(mutex_);
        if (const auto at = index_.find(name); at != index_.end()) return at->second->second;
        items_.emplace_front(name, made);
        index_[name] = items_.begin();
        if (items_.size() > most_) {
            index_.erase(items_.back().first);
            items_.pop_back();
        }
        return made;
    }

  private:
    std::shared_ptr<Value> find(const Name& name) {
        const std::lock_guard<std::mutex> lock(mutex_);
        const auto at = index_.find(name);
        if (at == index_.end()) return nullptr;
        items_.splice(items_.begin(), items_, at->second);
        return at->second->second;
    }

    using Items = std::list<std::pair<Name, std::shared_ptr<Value>>>;
    std::size_t most_;
    std::mutex mutex_;
    Items items_;
    std::map<Name, typename Items::iterator> index_;
};

}  // namespace seatwright::server
