// A list whose copies share what they hold behaves like a vector that is copied.
#include "seatwright/base/growing_list.hpp"

#include <gtest/gtest.h>

#include <random>
#include <string>
#include <thread>

#include "seatwright/base/fingerprint.hpp"

namespace seatwright {
namespace {

using Words = GrowingList<std::string>;
using Vector = std::vector<std::string>;

void expect_same(const Words& list, const Vector& vector, int step) {
    ASSERT_TRUE(std::equal(list.begin(), list.end(), vector.begin(), vector.end())) << step;
    // Known by its runs or not, a print is one of the things alone.
    const Words fresh(vector);
    ASSERT_EQ(FingerprintOf().add(list).end(), FingerprintOf().add(fresh).end()) << step;
}

// Many copies, each grown, cut, changed on its own.
TEST(GrowingList, HoldsWhatAVectorHoldsWhateverItsCopiesDo) {
    std::mt19937_64 random(11);
    std::vector<std::pair<Words, Vector>> all(1);
    for (int step = 0; step < 6000; ++step) {
        auto& [list, vector] = all[random() % all.size()];
        const std::string word = std::to_string(random() % 1000) + " and enough to need a place of its own";
        const std::size_t place = vector.empty() ? 0 : random() % vector.size();
        switch (random() % 12) {
            case 0:
                if (all.size() < 12) {
                    const auto copy = all[random() % all.size()];
                    all.push_back(copy);
                }
                break;
            case 1:
                if (all.size() > 4)
                    all.erase(all.begin() + static_cast<std::ptrdiff_t>(random() % all.size()));
                break;
            case 2:
                if (vector.empty()) break;
                list[place] = word;
                vector[place] = word;
                break;
            case 3:
                if (vector.empty() || random() % 4 != 0) break;
                list.erase(list.begin() + place);
                vector.erase(vector.begin() + static_cast<std::ptrdiff_t>(place));
                break;
            case 4:
                if (vector.empty()) break;
                list.pop_back();
                vector.pop_back();
                break;
            case 5:
                if (vector.empty()) break;
                list.push_back(std::as_const(list)[place]);  // one of its own
                vector.push_back(std::string(vector[place]));
                break;
            default:
                list.push_back(word);
                vector.push_back(word);
        }
        const auto& [shown, wanted] = all[random() % all.size()];
        expect_same(shown, wanted, step);
    }
    for (const auto& [list, vector] : all) expect_same(list, vector, -1);
}

// What is said to have grown has.
TEST(GrowingList, KnowsWhatItGrewFrom) {
    std::mt19937_64 random(5);
    std::vector<GrowingList<int>> all(1);
    int grown = 0;
    for (int step = 0; step < 20'000; ++step) {
        GrowingList<int> one = all[random() % all.size()];
        const auto what = random() % 10;
        if (what == 0 && !one.empty()) one[random() % one.size()] = static_cast<int>(random() % 3);
        if (what == 1 && !one.empty()) one.pop_back();
        if (what > 1) one.push_back(static_cast<int>(random() % 3));
        const GrowingList<int>& other = all[random() % all.size()];
        if (one.grown_from(other)) {
            ++grown;
            ASSERT_GE(one.size(), other.size());
            ASSERT_TRUE(std::equal(other.begin(), other.end(), std::as_const(one).begin()));
        }
        if (all.size() < 40)
            all.push_back(one);
        else
            all[random() % all.size()] = one;
    }
    EXPECT_GT(grown, 100) << "else nothing was shown";
    GrowingList<int> list;
    const GrowingList<int> empty = list;
    for (int i = 0; i < 1000; ++i) {
        const GrowingList<int> before = list;
        list.push_back(i);
        ASSERT_TRUE(list.grown_from(before))
            << "one behind the other is known, wherever it has to move: " << i;
    }
    EXPECT_TRUE(list.grown_from(empty));
    EXPECT_FALSE(empty.grown_from(list));
}

// Each thread's copy is its own, also while all put something behind the same place.
TEST(GrowingList, CopiesGrowInThreads) {
    GrowingList<std::string> shared;
    for (int i = 0; i < 100; ++i) shared.push_back(std::to_string(i));
    std::vector<std::thread> threads;
    std::vector<int> right(8);
    for (std::size_t t = 0; t < right.size(); ++t)
        threads.emplace_back([&, t, own = shared]() mutable {
            for (int i = 0; i < 500; ++i) own.push_back(std::to_string(t));
            right[t] = own.size() == 600 &&
                       std::all_of(own.begin() + 100, own.end(),
                                   [&](const std::string& word) { return word == std::to_string(t); });
        });
    for (auto& thread : threads) thread.join();
    for (const int one : right) EXPECT_TRUE(one);
    EXPECT_EQ(shared.size(), 100u);
}

}  // namespace
}  // namespace seatwright
