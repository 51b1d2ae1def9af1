// The most recently used few of something that can be made again.
#pragma once

#include <exception>
#include <future>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <utility>

namespace seatwright {

template <class Name, class Value>
class Cache {
  public:
    explicit Cache(std::size_t most) : most_(most) {}

    // The kept one, or `make()` kept from now on. Made outside the lock and once: who asks for what is being
    // made waits for it, with its exception if it throws (which is not kept). `make` must not ask for the
    // same name again.
    template <class Make>
    std::shared_ptr<Value> get(const Name& name, Make&& make) {
        std::optional<std::promise<std::shared_ptr<Value>>> promise;
        std::shared_future<std::shared_ptr<Value>> waiting;
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            if (auto kept = find(name)) return kept;
            if (const auto at = making_.find(name); at != making_.end())
                waiting = at->second;
            else
                making_[name] = promise.emplace().get_future().share();
        }
        if (waiting.valid()) return waiting.get();
        try {
            std::shared_ptr<Value> made = make();
            const std::lock_guard<std::mutex> lock(mutex_);
            keep(name, made);
            making_.erase(name);
            promise->set_value(made);
            return made;
        } catch (...) {
            const std::lock_guard<std::mutex> lock(mutex_);
            making_.erase(name);
            promise->set_exception(std::current_exception());
            throw;
        }
    }

    // The kept one, or null.
    std::shared_ptr<Value> known(const Name& name) {
        const std::lock_guard<std::mutex> lock(mutex_);
        return find(name);
    }

    void forget(const Name& name) {
        const std::lock_guard<std::mutex> lock(mutex_);
        const auto at = index_.find(name);
        if (at == index_.end()) return;
        items_.erase(at->second);
        index_.erase(at);
    }

  private:
    // Both with the lock held.
    std::shared_ptr<Value> find(const Name& name) {
        const auto at = index_.find(name);
        if (at == index_.end()) return nullptr;
        items_.splice(items_.begin(), items_, at->second);
        return at->second->second;
    }
    void keep(const Name& name, const std::shared_ptr<Value>& made) {
        items_.emplace_front(name, made);
        index_[name] = items_.begin();
        if (items_.size() <= most_) return;
        index_.erase(items_.back().first);
        items_.pop_back();
    }

    using Items = std::list<std::pair<Name, std::shared_ptr<Value>>>;
    std::size_t most_;
    std::mutex mutex_;
    Items items_;
    std::map<Name, typename Items::iterator> index_;
    std::map<Name, std::shared_future<std::shared_ptr<Value>>> making_;
};

}  // namespace seatwright
