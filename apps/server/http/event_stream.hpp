// What changed, told at once to everyone who looks: server-sent events.
#pragma once

#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace seatwright::server {

// One page that listens. Its events wait here until its connection takes them.
class Subscriber {
  public:
    Subscriber(long long job, long long person, std::string token)
        : job_(job), person_(person), token_(std::move(token)) {}
    long long job() const { return job_; }  // 0 = the Bench
    long long person() const { return person_; }
    const std::string& token() const { return token_; }  // of the login it listens by
    // `wake` is called, from any thread, when there is something to take or it is over.
    void listen(std::function<void()> wake);
    // What is ready to be written, empty when nothing came, nullopt when it is over.
    std::optional<std::string> take();
    void push(const std::string& text);
    void close();

  private:
    static constexpr std::size_t most_waiting = 512;  // events; a listener that far behind starts anew
    long long job_, person_;
    std::string token_;
    std::mutex mutex_;
    std::deque<std::string> waiting_;
    std::function<void()> wake_;
    bool over_ = false;
};

class EventStream {
  public:
    static constexpr std::size_t most_of_person = 8;
    // `most`: listeners at once, of all people; each holds a connection.
    explicit EventStream(std::size_t most = 256);

    // Null when there are too many, of all or of that person. `last_id`: the Last-Event-ID header; what was
    // missed is told first, or `resync` when it is no longer known.
    std::shared_ptr<Subscriber> subscribe(long long job, const std::string& last_id, long long person,
                                          const std::string& token = {});
    void unsubscribe(const std::shared_ptr<Subscriber>& subscriber);
    // Tells everyone on that job (0: the Bench) an event with JSON data.
    void publish(long long job, const std::string& event, const std::string& data);
    // Tells everyone to read everything anew.
    void resync();
    void close();
    // The person of each page that listens.
    std::vector<long long> listeners();
    // Ends those whose login is over, as `still_in` says of its token.
    void end_logged_out(const std::function<bool(const std::string& token)>& still_in);

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
