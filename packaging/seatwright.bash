# Completion for bash: commands and options as the program itself says them.
_seatwright() {
    local program=${COMP_WORDS[0]} word=${COMP_WORDS[COMP_CWORD]} words
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        words=$("$program" --help 2>/dev/null | awk '/^Subcommands:/ { on = 1; next } on && NF { print $1 }')
    elif [[ $word == -* ]]; then
        words=$("$program" "${COMP_WORDS[1]}" --help 2>/dev/null | grep -oE -- '--[a-z][a-z-]*' | sort -u)
    else
        compopt -o filenames 2>/dev/null
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
    fi
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
}
complete -F _seatwright seatwright
