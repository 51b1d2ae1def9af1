#include "seatwright/store/orders.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t longest_number = 40, longest_name = 120, longest_serial = 60, longest_head = 40;

std::optional<Refusal> fault_of(const std::string& what, const std::string& text, std::size_t most) {
    const bool control =
        std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 32; });
    const bool ends = !text.empty() && (text.front() == ' ' || text.back() == ' ');
    if (text.size() <= most && !control && !ends) return std::nullopt;
    return Refusal{
        Why::bad,
        fmt::format("{} has at most {} bytes, no control characters and no blanks at its ends", what, most),
        {},
        {},
        {}};
}

std::optional<Refusal> fault_of(const OrderChange& change) {
    if (change.number)
        if (auto fault = fault_of("a job's number", *change.number, longest_number)) return fault;
    if (change.customer)
        if (auto fault = fault_of("a customer's name", *change.customer, longest_name)) return fault;
    for (const auto& [head, serial] : change.serials) {
        if (head.empty()) return Refusal{Why::bad, "a serial number is a head's: say which", {}, {}, {}};
        if (auto fault = fault_of("a head's name", head, longest_head)) return fault;
        if (auto fault = fault_of("a serial number", serial, longest_serial)) return fault;
    }
    return std::nullopt;
}

// Of that job, or of all (0).
std::map<long long, Order> select_orders(Sql& sql, long long job) {
    std::map<long long, Order> all;
    const long long most = job == 0 ? std::numeric_limits<long long>::max() : job;
    {
        long long id = 0;
        std::string number;
        NullableNumber customer;
        NullableText name;
        soci::statement rows =
            (sql.prepare
                 << "select o.job_id, o.number, o.customer_id, c.name from job_order o left join "
                    "customer c on c.id = o.customer_id where o.job_id >= :least and o.job_id <= :most",
             soci::use(job), soci::use(most), soci::into(id), soci::into(number),
             soci::into(customer.value, customer.state), soci::into(name.value, name.state));
        rows.execute();
        while (rows.fetch()) all[id] = {number, customer.get(), name.get().value_or(""), {}};
    }
    long long id = 0;
    std::string head, serial;
    soci::statement rows =
        (sql.prepare << "select job_id, head, serial from head_serial where job_id >= :least and job_id <= "
                        ":most",
         soci::use(job), soci::use(most), soci::into(id), soci::into(head), soci::into(serial));
    rows.execute();
    while (rows.fetch()) all[id].serials[head] = serial;
    return all;
}

std::optional<long long> customer_named(Sql& sql, const std::string& name) {
    long long id = 0;
    sql << "select id from customer where name = :name", soci::use(name), soci::into(id);
    return sql.got_data() ? std::optional(id) : std::nullopt;
}

std::optional<long long> customer_for(Sql& sql, const std::string& name) {
    if (name.empty()) return std::nullopt;
    if (const auto known = customer_named(sql, name)) return known;
    const long long now = now_ms();
    long long id = 0;
    sql << "insert into customer (name, made_ms) values (:name, :now) returning id", soci::use(name),
        soci::use(now), soci::into(id);
    return id;
}

void keep_order(Sql& sql, long long job, const Order& order) {
    NullableNumber customer(order.customer_id);
    sql << "delete from job_order where job_id = :job", soci::use(job);
    sql << "insert into job_order (job_id, number, customer_id) values (:job, :number, :customer)",
        soci::use(job), soci::use(order.number), soci::use(customer.value, customer.state);
}

void keep_serial(Sql& sql, long long job, const std::string& head, const std::string& serial) {
    sql << "delete from head_serial where job_id = :job and head = :head", soci::use(job), soci::use(head);
    if (serial.empty()) return;
    sql << "insert into head_serial (job_id, head, serial) values (:job, :head, :serial)", soci::use(job),
        soci::use(head), soci::use(serial);
}

Order order_of(Sql& sql, long long job) {
    auto all = select_orders(sql, job);
    return all.empty() ? Order{} : std::move(all.begin()->second);
}

}  // namespace

Order Orders::of(long long job) {
    return database_.read([&](Sql& sql) { return order_of(sql, job); });
}

std::map<long long, Order> Orders::of_all() {
    return database_.read([](Sql& sql) { return select_orders(sql, 0); });
}

std::vector<Customer> Orders::customers() {
    return database_.read([](Sql& sql) {
        Customer one;
        soci::statement rows =
            (sql.prepare
                 << "select c.id, c.name, cast((select count(*) from job_order o where o.customer_id = "
                    "c.id) as bigint) from customer c order by c.name",
             soci::into(one.id), soci::into(one.name), soci::into(one.jobs));
        std::vector<Customer> all;
        rows.execute();
        while (rows.fetch()) all.push_back(one);
        return all;
    });
}

std::vector<long long> Orders::jobs_of(long long customer) {
    return database_.read([&](Sql& sql) {
        long long job = 0;
        soci::statement rows =
            (sql.prepare << "select job_id from job_order where customer_id = :customer order by job_id",
             soci::use(customer), soci::into(job));
        std::vector<long long> all;
        rows.execute();
        while (rows.fetch()) all.push_back(job);
        return all;
    });
}

Answer<Order> Orders::change(const Person& by, long long job, const OrderChange& change) {
    if (auto fault = fault_of(change)) return tl::unexpected(std::move(*fault));
    return database_.write([&](Sql& sql) -> Answer<Order> {
        long long known = 0;
        sql << "select count(*) from job where id = :job", soci::use(job), soci::into(known);
        if (known == 0) return refuse(Why::not_found, "there is no such job");
        const Order before = order_of(sql, job);
        Order now = before;
        if (change.number) now.number = *change.number;
        if (change.customer) now.customer_id = customer_for(sql, *change.customer);
        keep_order(sql, job, now);
        for (const auto& [head, serial] : change.serials) keep_serial(sql, job, head, serial);
        now = order_of(sql, job);
        if (now.number != before.number)
            note(sql, {by.id, job, {}, {}},
                 now.number.empty() ? "took the job's number away" : "the job's number is " + now.number);
        if (now.customer_id != before.customer_id) note(sql, {by.id, job, {}, {}}, "said whose the job is");
        if (now.serials != before.serials) note(sql, {by.id, job, {}, {}}, "typed serial numbers of heads");
        return now;
    });
}

Answer<Customer> Orders::rename(const Person& by, long long customer, const std::string& name) {
    if (auto fault = fault_of("a customer's name", name, longest_name)) return tl::unexpected(*fault);
    if (name.empty()) return refuse(Why::bad, "a customer has a name; to take one out give it another");
    return database_.write([&](Sql& sql) -> Answer<Customer> {
        const auto known = customer_named(sql, name);
        if (known && *known != customer)
            return refuse(Why::taken, "another customer has that name; say it at the jobs themselves");
        sql << "update customer set name = :name where id = :id", soci::use(name), soci::use(customer);
        long long there = 0, jobs = 0;
        sql << "select count(*) from customer where id = :id", soci::use(customer), soci::into(there);
        if (there == 0) return refuse(Why::not_found, "there is no such customer");
        sql << "select count(*) from job_order where customer_id = :id", soci::use(customer),
            soci::into(jobs);
        note(sql, {by.id, {}, {}, {}}, fmt::format("changed the name of customer {}", customer));
        return Customer{customer, name, jobs};
    });
}

}  // namespace seatwright::store
