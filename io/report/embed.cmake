# Writes OUTPUT, a .cpp that holds SKELETON, STYLE and, one after the other, SCRIPTS (paths, separated by |).

function(raw_string path out)
  file(READ ${path} text)
  set(${out} "R\"page(${text})page\"" PARENT_SCOPE)
endfunction()

string(REPLACE "|" ";" scripts "${SCRIPTS}")
set(script "")
foreach(path IN LISTS scripts)
  raw_string(${path} one)
  string(APPEND script "\n        ${one},")
endforeach()
raw_string(${SKELETON} skeleton)
raw_string(${STYLE} style)

file(WRITE ${OUTPUT} "// Made from io/report by embed.cmake.
#include \"io/report_files.hpp\"

#include <initializer_list>

namespace sandfreeze::io
{

std::string_view report_skeleton()
{
    return ${skeleton};
}

std::string_view report_style()
{
    return ${style};
}

std::string report_script()
{
    // In pieces: a compiler need not take a literal of more than 65,536 characters.
    std::string all;
    for (const std::string_view piece : std::initializer_list<std::string_view>{${script}
    })
        all += piece;
    return all;
}

}  // namespace sandfreeze::io
")
