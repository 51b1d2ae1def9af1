#include "cli/manual.hpp"

#include <fmt/format.h>

#include "seatwright/base/version.hpp"

namespace seatwright::cli {

namespace {

// The character that begins at `at`, by its number, as roff names it: its input is ASCII. `at` moves to its
// last byte. The program's own words are UTF-8.
std::string by_number(std::string_view text, std::size_t& at) {
    const auto first = static_cast<unsigned char>(text[at]);
    const std::size_t more = first >= 0xf0 ? 3 : first >= 0xe0 ? 2 : 1;
    unsigned number = first & (0x3fU >> more);
    for (std::size_t k = 0; k < more && at + 1 < text.size(); ++k)
        number = number << 6 | (static_cast<unsigned char>(text[++at]) & 0x3fU);
    return fmt::format("\\[u{:04X}]", number);
}

// A text as roff takes it: no character of it is a command.
std::string plain(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (static_cast<unsigned char>(c) >= 0x80)
            out += by_number(text, at);
        else if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else if (c == '\n')
            out += ' ';
        else
            out += c;
    }
    if (out.starts_with('.') || out.starts_with('\'')) out.insert(0, "\\&");
    return out;
}

std::string in_quotes(std::string_view text) {
    std::string out;
    for (const char c : plain(text)) out += c == '"' ? std::string("\\(dq") : std::string(1, c);
    return '"' + out + '"';
}

std::string option_text(const CLI::Option& option) {
    std::string names;
    for (const auto& name : option.get_snames()) names += (names.empty() ? "-" : ", -") + name;
    for (const auto& name : option.get_lnames()) names += (names.empty() ? "--" : ", --") + name;
    const bool takes = option.get_items_expected_max() > 0;
    const auto& word = option.get_single_name();
    std::string upper;
    for (const char c : word)
        upper += c == '-' ? '_' : static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    std::string about = option.get_description();
    if (!option.get_default_str().empty()) about += fmt::format(" (left out: {})", option.get_default_str());
    if (option.get_required()) about += " (required)";
    return fmt::format(".TP\n\\fB{}\\fR{}\n{}\n", plain(names), takes ? " \\fI" + plain(upper) + "\\fR" : "",
                       plain(about));
}

std::string command_text(const CLI::App& command) {
    std::string line = "seatwright " + command.get_name();
    std::string places, options;
    for (const auto* option : command.get_options()) {
        if (option->get_positional()) {
            line += option->get_required() ? ' ' + option->get_single_name()
                                           : " [" + option->get_single_name() + ']';
            places += fmt::format(".TP\n\\fI{}\\fR\n{}\n", plain(option->get_single_name()),
                                  plain(option->get_description()));
        } else if (option != command.get_help_ptr()) {
            options += option_text(*option);
        }
    }
    return fmt::format(".SS {}\n{}\n{}{}", in_quotes(line), plain(command.get_description()), places,
                       options);
}

constexpr auto after_commands = R"(.SH EXIT STATUS
.TP
\fB0\fR
done
.TP
\fB1\fR
an error of the program itself
.TP
\fB2\fR
the input is at fault: each fault one line on standard error, with file, line, key, what is wrong and what would be right
.TP
\fB3\fR
done, but the plan cannot be carried out as asked or a verdict is fail; the reasons are among the warnings
.SH FILES
.TP
\fI/usr/share/seatwright/examples\fR
demonstration jobs; heads, shops and readings in them are invented
.TP
\fI/usr/share/seatwright/shop/shop.toml\fR
the shelf they use
.TP
\fI/var/lib/seatwright\fR
the workbench's data where it runs as a service; only its own user reads it
.TP
\fI/etc/default/seatwright\fR
options of the service, where there is such a file: SEATWRIGHT_OPTIONS="\-\-listen ADDRESS \-\-certificate FILE \-\-key FILE"
.SH SAFETY
Heads fall, tools turn, chips fly, cold and hot metal burns. The engine maker's data, the machine's manual, local
rules and licensed practice come first. Run a new program dry above the head, cut one seat, measure it, and only then
the rest.
)";

}  // namespace

std::string manual(const CLI::App& app) {
    std::string out = fmt::format(
        ".TH SEATWRIGHT 1 \"\" \"seatwright {}\" \"Seatwright\"\n.SH NAME\nseatwright \\- {}\n.SH SYNOPSIS\n"
        ".B seatwright\n\\fICOMMAND\\fR [\\fIOPTIONS\\fR]\n.SH DESCRIPTION\n"
        "From a cylinder head\\(aqs drawing data and a few readings: how to hold it, where every guide is, "
        "the "
        "section and\ndepth of every valve seat, the cutting data and a checked program; afterwards verdicts "
        "with "
        "their uncertainty.\nA job is one TOML file; \\fBseatwright check \\-\\-reference\\fR lists its "
        "keys.\n"
        ".SH COMMANDS\n",
        plain(version), plain("valve-seat machining worked out beforehand, and proven afterwards"));
    for (const auto* command : app.get_subcommands(nullptr)) out += command_text(*command);
    return out + after_commands;
}

}  // namespace seatwright::cli
