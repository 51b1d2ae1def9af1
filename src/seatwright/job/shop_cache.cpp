#include "seatwright/job/shop_cache.hpp"

#include <tuple>
#include <utility>

#include "seatwright/base/cache.hpp"
#include "seatwright/job/plainly.hpp"

namespace seatwright::job {

namespace {

// A shelf is some tens of kilobytes; larger texts than this are not kept.
constexpr std::size_t most_kept = 4, largest_kept = 1'000'000;

}  // namespace

std::shared_ptr<const WalkedShop> walked_shop(const std::string& text, const std::string& file,
                                              LengthUnit inherited) {
    static Cache<std::tuple<LengthUnit, std::string, std::string>, const WalkedShop> cache(most_kept);
    const auto walk = [&] {
        Walked walked = walk_file(text, file, FileKind::shop, inherited);
        std::string plain = plainly(walked.root);
        return std::make_shared<const WalkedShop>(WalkedShop{std::move(walked), std::move(plain)});
    };
    if (text.size() > largest_kept) return walk();
    return cache.get({inherited, file, text}, walk);
}

}  // namespace seatwright::job
