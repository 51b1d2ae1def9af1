// Reading and writing columns that may be null: SOCI throws on a null without an indicator.
#pragma once

#include <soci/soci.h>

#include <optional>
#include <string>

namespace seatwright::store {

// A column that may be null: bind `value` and `state` together, into(c.value, c.state).
template <class T>
struct Nullable {
    T value{};
    soci::indicator state = soci::i_null;

    Nullable() = default;
    explicit Nullable(const std::optional<T>& given)
        : value(given.value_or(T{})), state(given ? soci::i_ok : soci::i_null) {}
    std::optional<T> get() const { return state == soci::i_ok ? std::optional<T>(value) : std::nullopt; }
};

using NullableNumber = Nullable<long long>;
using NullableText = Nullable<std::string>;

}  // namespace seatwright::store
