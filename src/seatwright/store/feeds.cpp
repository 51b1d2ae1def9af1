#include "seatwright/store/feeds.hpp"

#include <fmt/format.h>

#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

std::vector<FeedRow> select_feeds(Sql& sql) {
    FeedRow row;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select id, name, settings, version from feed where shop = :shop and is_put_away = 0 order "
                "by id",
         soci::use(shop), soci::into(row.id), soci::into(row.name), soci::into(row.settings),
         soci::into(row.version));
    std::vector<FeedRow> all;
    rows.execute();
    while (rows.fetch()) all.push_back(row);
    return all;
}

std::optional<FeedRow> feed_by_id(Sql& sql, long long id) {
    for (auto& row : select_feeds(sql))
        if (row.id == id) return row;
    return std::nullopt;
}

std::optional<Refusal> fault_of(Sql& sql, const NewFeed& feed, long long own) {
    constexpr std::size_t longest = 100;
    if (feed.name.empty() || feed.name.size() > longest)
        return Refusal{Why::bad, fmt::format("a feed has a name of 1 to {} letters", longest), {}, {}, {}};
    for (const auto& other : select_feeds(sql))
        if (other.id != own && other.name == feed.name)
            return Refusal{
                Why::taken, fmt::format("there is a feed called '{}' already", feed.name), {}, {}, {}};
    return std::nullopt;
}

}  // namespace

std::vector<FeedRow> Feeds::rows() {
    return database_.read([](Sql& sql) { return select_feeds(sql); });
}

std::optional<FeedRow> Feeds::row(long long id) {
    return database_.read([&](Sql& sql) { return feed_by_id(sql, id); });
}

Answer<FeedRow> Feeds::make(const Person& by, const NewFeed& feed) {
    return database_.write([&](Sql& sql) -> Answer<FeedRow> {
        if (auto fault = fault_of(sql, feed, 0)) return tl::unexpected(*fault);
        const long long shop = sql.shop(), now = now_ms();
        FeedRow row;
        static_cast<NewFeed&>(row) = feed;
        sql << "insert into feed (shop, name, settings, version, is_put_away, made_ms, made_by) values "
               "(:shop, :name, "
               ":settings, 1, 0, :now, :by) returning id",
            soci::use(shop), soci::use(feed.name), soci::use(feed.settings), soci::use(now), soci::use(by.id),
            soci::into(row.id);
        note(sql, {by.id, {}, {}, {}}, fmt::format("set up the feed '{}': {}", feed.name, feed.settings));
        return row;
    });
}

Answer<FeedRow> Feeds::change(const Person& by, long long id, long long made_on, const NewFeed& feed) {
    return database_.write([&](Sql& sql) -> Answer<FeedRow> {
        const auto now = feed_by_id(sql, id);
        if (!now) return refuse(Why::not_found, "there is no such feed");
        if (now->version != made_on)
            return tl::unexpected(
                Refusal{Why::stale, "somebody changed this feed meanwhile", {}, now->version, {}});
        if (auto fault = fault_of(sql, feed, id)) return tl::unexpected(*fault);
        const long long next = now->version + 1;
        sql << "update feed set name = :name, settings = :settings, version = :version where id = :id",
            soci::use(feed.name), soci::use(feed.settings), soci::use(next), soci::use(id);
        note(sql, {by.id, {}, {}, {}}, fmt::format("changed the feed '{}': {}", feed.name, feed.settings));
        return *feed_by_id(sql, id);
    });
}

Answer<FeedRow> Feeds::put_away(const Person& by, long long id) {
    return database_.write([&](Sql& sql) -> Answer<FeedRow> {
        const auto now = feed_by_id(sql, id);
        if (!now) return refuse(Why::not_found, "there is no such feed");
        sql << "update feed set is_put_away = 1 where id = :id", soci::use(id);
        note(sql, {by.id, {}, {}, {}}, fmt::format("put away the feed '{}'", now->name));
        return *now;
    });
}

}  // namespace seatwright::store
