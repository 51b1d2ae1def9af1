// A line on the terminal while something takes longer than a second: what is being done and for how long.
#pragma once

#include <condition_variable>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace seatwright {

// From its making to its end, on standard error, and only where that is a terminal; the line is wiped at the
// end. `what` is in the form "drawing the certificate". Interrupting (Ctrl-C) is safe: files are written
// whole or not at all.
class ProgressLine {
  public:
    explicit ProgressLine(std::string what);
    ~ProgressLine() { over(); }
    // What is being done from now on, and which part of it is done, 0 to 1. From any thread.
    void at(const std::string& what, double part);
    // The line is wiped; nothing more is shown.
    void over();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

  private:
    void show();

    std::string what_;
    std::optional<int> percent_;
    std::mutex mutex_;
    std::condition_variable ended_;
    bool over_ = false;
    std::thread thread_;
};

// What `work` gives, waited for so.
template <class Work>
auto with_progress_line(std::string what, const Work& work) {
    const ProgressLine line(std::move(what));
    return work();
}

}  // namespace seatwright
