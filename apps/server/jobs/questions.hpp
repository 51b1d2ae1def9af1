// Questions that cost processor time and memory, let through a few at a time: so many at once, of one person
// fewer, the others wait, whoever has fewest under way first. Each has its time, and ends when its asker has
// gone.
#pragma once

#include <chrono>
#include <condition_variable>
#include <functional>
#include <list>
#include <map>
#include <mutex>

namespace seatwright::server {

struct QuestionLimits {
    std::size_t at_once = 4;
    std::size_t of_person = 2;                                  // at once
    std::size_t waiting_of_person = 8;                          // beyond those
    std::chrono::milliseconds most = std::chrono::seconds(10);  // waiting and working
};

class Questions {
  public:
    using Clock = std::chrono::steady_clock;
    using StillThere = std::function<bool()>;  // the asker

    explicit Questions(const QuestionLimits& limits = {}) : limits_(limits) {}

    // One question under way; over when it goes.
    class Turn {
      public:
        ~Turn();
        Turn(const Turn&) = delete;
        Turn& operator=(const Turn&) = delete;
        // Between two pieces of work. Throws HttpError: 503 when the question's time is over, 499 when nobody
        // waits for the answer any more.
        void check() const;

      private:
        friend class Questions;
        Turn(Questions& house, long long person, Clock::time_point until, StillThere there);
        Questions& house_;
        long long person_;
        Clock::time_point until_;
        StillThere there_;
    };

    // Waits for its turn. Throws HttpError: 429 when that person has too many waiting, 503 and 499 as
    // check().
    Turn take(long long person, StillThere there);

  private:
    struct Waiting {
        long long person = 0;
    };
    bool is_next(const Waiting& one) const;
    QuestionLimits limits_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::list<Waiting> waiting_;  // in order of their coming
    std::size_t running_ = 0;
    std::map<long long, std::size_t> running_of_;
};

}  // namespace seatwright::server
