// `serve` in a process of its own, as a person starts it: what it prints, what it answers, how it ends.
#pragma once

#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <functional>
#include <optional>
#include <string>
#include <thread>

#include "server/serve.hpp"

namespace seatwright::server {

struct Ended {
    int status = -1;  // exit status; -1 = by a signal
    std::string words;
};

// A child of the test that calls serve() with its output going to a pipe. Killed with the test, by its id.
class Serving {
  public:
    explicit Serving(const ServeOptions& options, const std::function<void()>& before = {}) {
        int ends[2];
        if (::pipe(ends) != 0) return;
        std::fflush(stdout);  // what waits there is not the child's
        pid_ = ::fork();
        if (pid_ == 0) {
            ::dup2(ends[1], STDOUT_FILENO);
            ::dup2(ends[1], STDERR_FILENO);
            ::close(ends[0]);
            if (before) before();
            const int status = serve(options);
            std::fflush(stdout);
            ::_exit(status);
        }
        ::close(ends[1]);
        out_ = ends[0];
    }
    ~Serving() {
        if (pid_ > 0) {
            ::kill(pid_, SIGKILL);
            ::waitpid(pid_, nullptr, 0);
        }
        ::close(out_);
    }
    Serving(const Serving&) = delete;
    Serving& operator=(const Serving&) = delete;

    // Reads what it prints up to and with `mark`; false if it ends before.
    bool wait_for(const std::string& mark) {
        char next = 0;
        while (said_.find(mark) == std::string::npos && ::read(out_, &next, 1) == 1) said_ += next;
        return said_.find(mark) != std::string::npos;
    }
    // The port it says it listens at; 0 if it does not come up.
    int port() {
        if (!wait_for("Stop with")) return 0;
        const auto scheme = said_.find("://"), colon = said_.find(':', scheme + 3);
        return std::stoi(said_.substr(colon + 1));
    }
    void tell(int signal) const { ::kill(pid_, signal); }
    // Waits for its end, at most `seconds`; nothing if it is still there.
    std::optional<Ended> ended(double seconds = 20) {
        using Clock = std::chrono::steady_clock;
        const auto last = Clock::now() + std::chrono::duration<double>(seconds);
        for (int status = 0; Clock::now() < last; std::this_thread::sleep_for(std::chrono::milliseconds(5))) {
            if (::waitpid(pid_, &status, WNOHANG) != pid_) continue;
            pid_ = -1;
            wait_for("\x04");  // the rest
            return Ended{WIFEXITED(status) ? WEXITSTATUS(status) : -1, said_};
        }
        return std::nullopt;
    }
    const std::string& said() const { return said_; }
    pid_t pid() const { return pid_; }
    // The most memory it has had resident so far, MiB; 0 when it is gone.
    double most_memory() const { return memory("VmHWM:"); }
    // What it has resident now.
    double memory_now() const { return memory("VmRSS:"); }

  private:
    double memory(const std::string& which) const {
        std::ifstream status("/proc/" + std::to_string(pid_) + "/status");
        std::string word;
        while (status >> word)
            if (double kib = 0; word == which && status >> kib) return kib / 1024;
        return 0;
    }
    pid_t pid_ = -1;
    int out_ = -1;
    std::string said_;
};

}  // namespace seatwright::server
