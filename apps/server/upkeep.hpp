// What is looked after while the workbench runs, without anybody asking: a list of tasks, each done at the
// start and then at most an hour apart, one after another on a thread of its own. One that fails is logged
// and tried again; the others go on.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace seatwright::server {

class Upkeep {
  public:
    struct Task {
        std::string name;
        std::function<void()> work;
    };

    explicit Upkeep(std::vector<Task> tasks);
    // Waits for the task under way.
    ~Upkeep();
    Upkeep(const Upkeep&) = delete;
    Upkeep& operator=(const Upkeep&) = delete;

  private:
    void run();
    std::vector<Task> tasks_;
    std::mutex mutex_;
    std::condition_variable over_;
    bool stop_ = false;
    std::thread thread_;
};

}  // namespace seatwright::server
