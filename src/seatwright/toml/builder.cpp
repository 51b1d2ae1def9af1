#include "seatwright/toml/builder.hpp"

#include <fmt/format.h>

#include <functional>
#include <random>

namespace seatwright::toml {
namespace {

// Tables with more children than this are looked up by an index.
constexpr int few = 8;

const char* what_it_is(Form form) {
    switch (form) {
        case Form::text:
            return "a text";
        case Form::integer:
        case Form::number:
            return "a number";
        case Form::flag:
            return "true or false";
        case Form::moment:
            return "a date or time";
        case Form::word_list:
        case Form::list:
            return "a list in brackets";
        case Form::inline_table:
            return "a table in braces";
        case Form::table_list:
            return "a list of tables";
        case Form::nothing:
            return "a key";
        default:
            return "a table";
    }
}

}  // namespace

Builder::Builder(Tree& tree) : tree_(tree) {
    // Nobody outside can choose names that all fall on one slot.
    static const std::size_t seed = [] {
        std::random_device device;
        return static_cast<std::size_t>(device()) << 32 | device();
    }();
    seed_ = seed;
    Node root;
    root.form = Form::headed;
    tree_.nodes.push_back(root);
}

std::size_t Builder::hash_of(std::string_view name) const {
    std::size_t hash = seed_;
    for (const char c : name) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 0x9E3779B97F4A7C15u;
        hash ^= hash >> 29;
    }
    return hash ^ hash >> 32;
}

Builder::Name Builder::name_of(KeyPart part, std::string& buffer) const {
    const std::string_view name = name_of_part(tree_.text, part, buffer);
    return {name, hash_of(name)};
}

bool Builder::is_named(Id node, const Name& name) const {
    const Node& n = tree_.nodes[node];
    if (n.hash != static_cast<std::uint16_t>(name.hash)) return false;
    std::string buffer;
    return name_of_part(tree_.text, nth_key_part(tree_.text, n.key, n.part), buffer) == name.text;
}

Id Builder::find(Id table, const Name& name) {
    const Id last = tree_.nodes[table].last;
    if (last == none) return none;
    Id child = tree_.nodes[last].next;
    for (int seen = 0; seen < few; ++seen) {
        if (is_named(child, name)) return child;
        if (child == last) return none;
        child = tree_.nodes[child].next;
    }
    return find_in(large_[table], name);
}

Id Builder::find_in(const Index& index, const Name& name) const {
    if (index.slots.empty()) return none;
    const std::size_t mask = index.slots.size() - 1;
    for (std::size_t i = name.hash & mask; index.slots[i] != none; i = (i + 1) & mask)
        if (is_named(index.slots[i], name)) return index.slots[i];
    return none;
}

void Builder::fill(Index& index, Id node) const {
    std::string buffer;
    const Node& n = tree_.nodes[node];
    const std::size_t mask = index.slots.size() - 1;
    std::size_t i = name_of(nth_key_part(tree_.text, n.key, n.part), buffer).hash & mask;
    while (index.slots[i] != none) i = (i + 1) & mask;
    index.slots[i] = node;
}

void Builder::grow(Id table, Index& index) const {
    index.slots.assign(index.slots.empty() ? 4 * few : 2 * index.slots.size(), none);
    const Id last = tree_.nodes[table].last;
    index.used = 0;
    for (Id child = tree_.first(table);; child = tree_.nodes[child].next) {
        fill(index, child);
        ++index.used;
        if (child == last) break;
    }
}

Id Builder::add(Id table, const DottedKey& key, std::uint8_t part, const Name& name, Form form) {
    Node node;
    node.key = key.begin();
    node.part = part;
    node.form = form;
    node.begin = key.begin();
    node.end = key.parts[part].end;
    node.hash = static_cast<std::uint16_t>(name.hash);
    const Id id = static_cast<Id>(tree_.nodes.size());
    tree_.nodes.push_back(node);
    tree_.append(table, id);
    int children = 0;
    const Id last = tree_.nodes[table].last;
    for (Id child = tree_.first(table); child != last && children <= few; child = tree_.nodes[child].next)
        ++children;
    if (children < few) return id;
    Index& index = large_[table];
    // At most three quarters of the slots are taken.
    if (4 * (index.used + 1) > 3 * index.slots.size()) {
        grow(table, index);
    } else {
        fill(index, id);
        ++index.used;
    }
    return id;
}

std::string Builder::said(const DottedKey& key, std::size_t count) const {
    constexpr std::size_t longest = 80;
    const std::string_view text = tree_.text;
    const auto whole = text.substr(key.begin(), key.parts[count - 1].end - key.begin());
    if (whole.size() <= longest) return std::string(whole);
    std::size_t size = longest;
    while ((static_cast<unsigned char>(whole[size]) & 0xC0u) == 0x80u) --size;
    return std::string(whole.substr(0, size)) + "…";
}

std::string Builder::given_before(const DottedKey& key, std::size_t count, Id before) const {
    return fmt::format("{} is {} already, from line {}", said(key, count),
                       what_it_is(tree_.nodes[before].form), line(before));
}

Put Builder::key(Id table, const DottedKey& key) {
    Put out;
    std::string buffer;
    const std::uint8_t last = key.count - 1;
    for (std::uint8_t part = 0; part <= last; ++part) {
        const Name name = name_of(key.parts[part], buffer);
        const Id child = find(table, name);
        if (part == last) {
            if (child == none) return {add(table, key, part, name, Form::nothing), ""};
            out.wrong = fmt::format("{} is given twice, first in line {}; keep one of the two",
                                    said(key, key.count), line(child));
        } else if (child == none) {
            table = add(table, key, part, name, Form::dotted);
            continue;
        } else if (Node& node = tree_.nodes[child]; node.form == Form::dotted || node.form == Form::implied) {
            if (node.form == Form::implied) {
                node.begin = key.begin();
                node.end = key.parts[part].end;
            }
            node.form = Form::dotted;
            table = child;
            continue;
        } else {
            out.wrong = fmt::format("{}; {} cannot be put into it here", given_before(key, part + 1u, child),
                                    said(key, key.count));
        }
        break;
    }
    out.node = lost_table(key.begin());
    return out;
}

Id Builder::holder_of(const DottedKey& key, std::uint32_t begin, std::string& wrong) {
    Id at = root_id;
    std::string buffer;
    for (std::uint8_t part = 0; part + 1 < key.count; ++part) {
        const Name name = name_of(key.parts[part], buffer);
        Id child = find(at, name);
        if (child == none) {
            child = add(at, key, part, name, Form::implied);
            tree_.nodes[child].begin = begin;
        } else if (tree_.nodes[child].form == Form::table_list) {
            child = tree_.nodes[child].last;
        } else if (!is_open_table(tree_.nodes[child].form)) {
            wrong = fmt::format("{}; no table can be put into it by a header",
                                given_before(key, part + 1u, child));
            return none;
        }
        at = child;
    }
    return at;
}

Put Builder::table(const DottedKey& key, std::uint32_t begin, std::uint32_t end) {
    Put out;
    std::string buffer;
    const Id holder = holder_of(key, begin, out.wrong);
    if (holder == none) return {lost_table(begin), std::move(out.wrong)};
    const std::uint8_t last = key.count - 1;
    const Name name = name_of(key.parts[last], buffer);
    out.node = find(holder, name);
    if (out.node == none) {
        out.node = add(holder, key, last, name, Form::headed);
    } else if (Form& form = tree_.nodes[out.node].form; form == Form::implied) {
        form = Form::headed;
    } else if (form == Form::headed) {
        // What follows is read as if the two were one, so that its faults are told too.
        out.wrong =
            fmt::format("[{}] is opened twice, first in line {}; put all its keys under one of the two",
                        said(key, key.count), line(out.node));
        return out;
    } else if (form == Form::dotted) {
        out.wrong =
            fmt::format("{} is a table already, from the dotted keys in line {}; add these keys there",
                        said(key, key.count), line(out.node));
        return {lost_table(begin), std::move(out.wrong)};
    } else {
        out.wrong = form == Form::table_list
                        ? fmt::format("{}; write [[{}]] for one more", given_before(key, key.count, out.node),
                                      said(key, key.count))
                        : given_before(key, key.count, out.node) + "; keep one of the two";
        return {lost_table(begin), std::move(out.wrong)};
    }
    tree_.nodes[out.node].begin = begin;
    tree_.nodes[out.node].end = end;
    return out;
}

Put Builder::table_of_list(const DottedKey& key, std::uint32_t begin, std::uint32_t end) {
    Put out;
    std::string buffer;
    const Id holder = holder_of(key, begin, out.wrong);
    if (holder == none) return {lost_table(begin), std::move(out.wrong)};
    const std::uint8_t last = key.count - 1;
    const Name name = name_of(key.parts[last], buffer);
    Id list = find(holder, name);
    if (list == none) {
        list = add(holder, key, last, name, Form::table_list);
        tree_.nodes[list].begin = begin;
        tree_.nodes[list].end = end;
    } else if (tree_.nodes[list].form != Form::table_list) {
        out.wrong = given_before(key, key.count, list);
        out.wrong += is_list(tree_.nodes[list].form) ? "; add its tables there, between the brackets"
                                                     : "; keep one of the two";
        return {lost_table(begin), std::move(out.wrong)};
    }
    out.node = entry(list);
    Node& node = tree_.nodes[out.node];
    node.form = Form::element;
    node.key = key.begin();
    node.begin = begin;
    node.end = end;
    return out;
}

Id Builder::entry(Id list) {
    const Id id = static_cast<Id>(tree_.nodes.size());
    tree_.nodes.push_back(Node{});
    tree_.append(list, id);
    return id;
}

Id Builder::lost_table(std::uint32_t begin) {
    Node node;
    node.begin = node.end = begin;
    node.form = Form::headed;
    tree_.nodes.push_back(node);
    return static_cast<Id>(tree_.nodes.size() - 1);
}

}  // namespace seatwright::toml
