// What changed, told at once to everyone who looks: server-sent events.
#pragma once

#include <condition_variable>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>

namespace seatwright::server {

// One page that listens. Its events wait here until its connection takes them.
class Subscriber {
  public:
    Subscriber(long long job, long long person) : job_(job), person_(person) {}
    long long job() const { return job_; }  // 0 = the Bench
    long long person() const { return person_; }
    // Waits up to `seconds`; what is ready to be written, empty when nothing came, nullopt when it is over.
    std::optional<std::string> wait(double seconds);
    void push(const std::string& text);
    void close();

  private:
    static constexpr std::size_t most_waiting = 512;  // events; a listener that far behind starts anew
    long long job_, person_;
    std::mutex mutex_;
    std::condition_variable some_;
    std::deque<std::string> waiting_;
    bool over_ = false;
};

class EventStream {
  public:
    static constexpr std::size_t most_of_person = 8;
    // `most`: listeners at once, of all people; each holds a connection.
    explicit EventStream(std::size_t most = 256);

    // Null when there are too many, of all or of that person. `last_id`: the Last-Event-ID header; what was
    // missed is told first, or `resync` when it is no longer known.
    std::shared_ptr<Subscriber> subscribe(long long job, const std::string& last_id, long long person);
    void unsubscribe(const std::shared_ptr<Subscriber>& subscriber);
    // Tells everyone on that job (0: the Bench) an event with JSON data.
    void publish(long long job, const std::string& event, const std::string& data);
    void close();

  private:
    struct Event {
        long long number = 0, job = 0;
        std::string text;
    };
    static constexpr std::size_t most_kept = 2000;
    std::string id_of(long long number) const;
    std::size_t most_;
    std::string run_;  // of this run of the program: numbers start again with it
    std::mutex mutex_;
    std::set<std::shared_ptr<Subscriber>> subscribers_;
    std::deque<Event> kept_;
    long long number_ = 0;
    bool closed_ = false;
};

}  // namespace seatwright::server
