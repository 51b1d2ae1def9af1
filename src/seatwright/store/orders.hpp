// Whose a job is: the shop's own number of it, its customer, the serial numbers of its heads. In the store
// alone: papers print them, the Bench sorts by them, job files and programs never have them. A customer's
// name stands once, so that it can be corrected or taken out everywhere; the Ledger says that something was
// changed, without the name.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct Customer {
    long long id = 0;
    std::string name;
    long long jobs = 0;  // of theirs
};

struct Order {
    std::string number;                          // the shop's own; empty: none
    std::optional<long long> customer_id;        // none: not said
    std::string customer;                        // its name
    std::map<std::string, std::string> serials;  // of heads, by the head
    bool operator==(const Order&) const = default;
};

// What is not named stays. An empty text takes away.
struct OrderChange {
    std::optional<std::string> number, customer;
    std::map<std::string, std::string> serials;
};

class Orders {
  public:
    explicit Orders(Database& database) : database_(database) {}

    Order of(long long job);              // an empty one where nothing was said
    std::map<long long, Order> of_all();  // by job; without those nothing was said of
    std::vector<Customer> customers();    // by name
    std::vector<long long> jobs_of(long long customer);
    // Customers are known by their names; one nobody had before is made.
    Answer<Order> change(const Person& by, long long job, const OrderChange& change);
    Answer<Customer> rename(const Person& by, long long customer, const std::string& name);

  private:
    Database& database_;
};

}  // namespace seatwright::store
