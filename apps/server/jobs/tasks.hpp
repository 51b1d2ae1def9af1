// Work that takes longer than a person likes to wait without a word: its progress can be asked for, and it
// can be cancelled.
#pragma once

#include <atomic>
#include <chrono>
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "seatwright/store/refusal.hpp"

namespace seatwright::server {

struct TaskState {
    std::string id;
    std::string state = "running";  // finished, cancelled, failed
    std::size_t done = 0, total = 0;
    std::string sentence;
    std::optional<long long> job;  // the job made, when finished
};

// A task's own view of itself.
class TaskReport {
  public:
    using Clock = std::chrono::steady_clock;
    // A page asks more than once a second how far it is.
    static constexpr auto longest_unasked = std::chrono::seconds(30);

    // False = the person has cancelled it, or nobody asks any more for what is only worked out ahead: stop
    // and keep nothing.
    bool progress(std::size_t done, std::size_t total, const std::string& sentence);

  private:
    friend class Tasks;
    std::mutex mutex_;
    TaskState state_;
    std::atomic<bool> cancelled_{false};
    bool only_while_asked_ = false;
    Clock::time_point asked_ = Clock::now();
};

// Each kind has places of its own: working something out ahead holds up nobody's import.
enum class TaskKind { import_, prepare, send };

class Tasks {
  public:
    using Work = std::function<store::Answer<long long>(TaskReport&)>;  // gives the job made
    ~Tasks();
    // Starts it; refused while too many of its kind run, or one of this person.
    store::Answer<TaskState> start(long long person, TaskKind kind, Work work);
    // Of this person; nothing if there is none of that id.
    std::optional<TaskState> state(long long person, const std::string& id);
    std::optional<TaskState> cancel(long long person, const std::string& id);

  private:
    struct Task {
        long long person = 0;
        TaskKind kind = TaskKind::import_;
        std::shared_ptr<TaskReport> report;
        std::thread thread;
    };
    static constexpr std::size_t most_running = 2;  // of a kind
    static constexpr std::size_t most_kept = 50;    // finished ones, for those who ask late
    // Of that kind; of one person, if given.
    std::size_t running(TaskKind kind, std::optional<long long> person);
    void forget_oldest();
    std::mutex mutex_;
    std::map<std::string, Task> tasks_;
    std::list<std::string> order_;
};

}  // namespace seatwright::server
