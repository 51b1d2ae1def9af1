// Logins looked up a moment ago, so that a page that asks ten things at once has its login read once.
// Forgotten at every change of people and logins made here; and after `longest_ms`, since another server may
// have made one. Thread-safe.
#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <string>

namespace seatwright::store {

template <class Login>
class LoginsSeen {
  public:
    static constexpr long long longest_ms = 1000;

    std::optional<Login> of(const std::string& token_hash, long long now_ms) const {
        const std::lock_guard<std::mutex> lock(mutex_);
        const auto at = seen_.find(token_hash);
        if (at == seen_.end()) return std::nullopt;
        const long long ago = now_ms - at->second.at_ms;  // below 0 when the clock was set back
        return 0 <= ago && ago < longest_ms ? std::optional(at->second.login) : std::nullopt;
    }

    // What changes() said before the login was read; a change since then makes it count for nothing.
    long long changes() const {
        const std::lock_guard<std::mutex> lock(mutex_);
        return changes_;
    }
    void keep(const std::string& token_hash, const Login& login, long long now_ms, long long changes) {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (changes != changes_) return;
        if (seen_.size() >= most) seen_.clear();
        seen_.insert_or_assign(token_hash, Seen{login, now_ms});
    }
    void forget() {
        const std::lock_guard<std::mutex> lock(mutex_);
        seen_.clear();
        ++changes_;
    }

  private:
    static constexpr std::size_t most = 256;
    struct Seen {
        Login login;
        long long at_ms = 0;
    };
    mutable std::mutex mutex_;
    std::map<std::string, Seen> seen_;
    long long changes_ = 0;
};

}  // namespace seatwright::store
