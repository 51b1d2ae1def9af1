# seatwright_embed(<target> <base folder> <files…>): the files' bytes as part of the binary, by the assembler's
# .incbin, and a table of their names (relative to the base folder) in embedded.hpp's shape.
function(seatwright_embed target base)
    set(assembly "    .section .rodata\n")
    set(declarations "")
    set(rows "")
    set(number 0)
    foreach(file ${ARGN})
        file(RELATIVE_PATH name ${base} ${file})
        string(APPEND assembly
            "    .balign 8\n    .global seatwright_file_${number}\nseatwright_file_${number}:\n    .incbin \"${file}\"\n"
            "    .global seatwright_file_${number}_end\nseatwright_file_${number}_end:\n    .byte 0\n")
        string(APPEND declarations
            "extern \"C\" const char seatwright_file_${number}[], seatwright_file_${number}_end[];\n")
        string(APPEND rows
            "    {\"${name}\", {seatwright_file_${number}, static_cast<std::size_t>(seatwright_file_${number}_end - seatwright_file_${number})}},\n")
        math(EXPR number "${number} + 1")
    endforeach()
    string(APPEND assembly "    .section .note.GNU-stack,\"\",@progbits\n")
    set(folder ${CMAKE_CURRENT_BINARY_DIR}/embedded)
    file(CONFIGURE OUTPUT ${folder}/files.S CONTENT "${assembly}" @ONLY)
    file(CONFIGURE OUTPUT ${folder}/table.cpp @ONLY CONTENT
        "#include \"server/http/embedded.hpp\"\n${declarations}namespace seatwright::server {\nconst std::vector<EmbeddedFile>& embedded_files() {\n    static const std::vector<EmbeddedFile> files{\n${rows}    };\n    return files;\n}\n}  // namespace seatwright::server\n")
    set_source_files_properties(${folder}/files.S PROPERTIES OBJECT_DEPENDS "${ARGN}")
    target_sources(${target} PRIVATE ${folder}/files.S ${folder}/table.cpp)
endfunction()
