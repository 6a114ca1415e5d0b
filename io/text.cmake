# Case file, answer file and writing files whole: standard library, the TOML and JSON readers.
find_package(nlohmann_json REQUIRED)
find_path(TOMLPLUSPLUS_INCLUDE_DIR toml++/toml.h REQUIRED)

# Reading cases; the errors of files.
add_library(sandfreeze_io_case STATIC
  block.cpp
  case_checks.cpp
  case_echo.cpp
  case_file.cpp
  case_manual.cpp
  errors.cpp
  material_reader.cpp
  nearest_name.cpp
  neighbours.cpp
  plan_levels.cpp
  read_edges.cpp
  read_filling.cpp
  read_heights.cpp
  read_lists.cpp
  read_materials.cpp
  read_parts.cpp
  read_pouring.cpp
  read_shapes.cpp
  read_soundness.cpp
  schema.cpp
  schema_frame.cpp
  schema_materials.cpp
  schema_parts.cpp
  schema_pouring.cpp
  schema_report.cpp
  text.cpp
  toml_reader.cpp
  value_checks.cpp
  voxel_checks.cpp)
target_link_libraries(sandfreeze_io_case
  PUBLIC sandfreeze_flags sandfreeze_case sandfreeze_mesh sandfreeze_materials
  PRIVATE sandfreeze_hardening)
target_include_directories(sandfreeze_io_case PRIVATE ${TOMLPLUSPLUS_INCLUDE_DIR})

add_library(sandfreeze_io_text STATIC
  answer_advice.cpp
  answer_feeding.cpp
  answer_file.cpp
  answer_matters.cpp
  answer_models.cpp
  answer_soundness.cpp
  file_names.cpp
  json_values.cpp
  sha256.cpp
  sheet_json.cpp
  sheet_page.cpp
  sheet_words.cpp
  solved_times.cpp
  whole_file.cpp)
target_link_libraries(sandfreeze_io_text
  PUBLIC sandfreeze_flags sandfreeze_io_case
  PRIVATE sandfreeze_hardening nlohmann_json::nlohmann_json)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # GCC 12 takes "text" + std::string for overlapping memory once it has inlined it: a false alarm.
  target_compile_options(sandfreeze_io_case PRIVATE -Wno-restrict)
  target_compile_options(sandfreeze_io_text PRIVATE -Wno-restrict)
endif()
