// English, what is said of readings that come by themselves: why there is none, what is wrong with a source.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::live {

inline constexpr auto english_table = std::to_array<words::Line>({
    // channel.cpp
    {"live.unavailable", "{what}: the source says it has no value now (UNAVAILABLE)"},
    {"live.no-number", "{what} is '{raw}': that is no number"},
    {"live.too-few-numbers",
     "{what} is '{raw}': that has {count} {count:number|numbers}, number {wanted} of them was set up"},
    {"live.other-unit",
     "{what} is '{raw}', in {unit}, and was set up in {set_up}: switch the source over, or set the feed up "
     "anew"},
    {"live.beyond", "{what} is '{raw}', {value}: that is beyond what can be reached ({range})"},
    {"live.beyond-in-inches",
     "{what} is '{raw}', {value}: that is beyond what can be reached ({range}); it would be right in inches: "
     "which unit does the source count in?"},
    {"live.beyond-in-millimetres",
     "{what} is '{raw}', {value}: that is beyond what can be reached ({range}); it would be right in "
     "millimetres: which unit does the source count in?"},
    {"live.from-to", "{low} to {high}"},
    {"live.at-least", "at least {low}"},
    {"live.at-most", "at most {high}"},

    // clock_watch.cpp
    {"live.clock-ahead",
     "the source's clock is {seconds} s ahead of the workbench's: its times are not believed"},
    {"live.clock-behind",
     "the source's clock is {seconds} s behind the workbench's: its times are not believed"},
    {"live.clock-backwards", "the source's times run backwards: they are not believed"},
    {"live.late", "this came {seconds} s late: it is not what stands now"},

    // watch.cpp
    {"live.of-what", "{what}: {why}"},
    {"live.not-heard", "{source}: nothing was heard for {seconds} s: is it switched on and connected?"},
    {"live.never-heard", "{source}: nothing has been heard yet"},
    {"live.nothing-came", "{what}: nothing of it has come yet"},

    // follow.cpp
    {"live.agent-anew", "the agent was started anew: what it said before counts no more"},
    {"live.no-sequence", "the agent's document has no nextSequence: it cannot be followed"},
    {"live.fell-out",
     "{count} {count:observation|observations} fell out of the agent's memory before they were read"},
    {"live.counts-backwards", "the agent counts backwards: what stands is asked anew"},
    {"live.gap",
     "what was to come next fell out of the agent's memory: there is a gap, what stands is asked anew"},
    {"live.agent-says", "the agent says {code}: {text}"},

    // mtconnect.cpp, parts.cpp
    {"live.too-large", "the agent's document is larger than {mib} MiB"},
    {"live.no-xml", "what the agent sent is no XML document: {fault}, at byte {at} of {bytes}"},
    {"live.no-agent",
     "what answered is no agent: its document is a '{name}' of no namespace of the standard's"},
    {"live.other-document", "the agent sent a '{name}' where Devices, Streams or Error belong"},
    {"live.part-too-large", "the agent announces a part of {bytes} bytes: that is more than any"},
    {"live.endless-part", "a part of what the agent sends does not end"},

    // shdr.cpp
    {"live.too-many-fields", "a line of the adapter has more than {most} fields: it was passed over"},
    {"live.no-adapter", "the adapter says '{line}': a line is timestamp|key|value"},

    // gauge_line.cpp
    {"live.gauge-too-long", "the gauge says '{line}': that is longer than any reading"},
    {"live.gauge-error", "the gauge says '{line}': an error of its own; look at the gauge"},
    {"live.gauge-no-number", "the gauge says '{line}': there is no number in it"},
    {"live.gauge-no-unit", "the gauge says '{line}': '{unit}' is no unit the workbench knows"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::live
