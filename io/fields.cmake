# Fields and pictures: VTK, HDF5, cairo.
set(CMAKE_FIND_PACKAGE_TARGETS_GLOBAL ON)  # whoever links the library needs them too
find_package(VTK 9 REQUIRED COMPONENTS CommonCore CommonDataModel IOXML)
find_package(HDF5 REQUIRED COMPONENTS C)
find_package(ZLIB REQUIRED)
find_package(GIF 5 REQUIRED)
find_package(fmt REQUIRED)
find_package(PkgConfig REQUIRED)
pkg_check_modules(cairo REQUIRED IMPORTED_TARGET GLOBAL cairo)
unset(CMAKE_FIND_PACKAGE_TARGETS_GLOBAL)

# The page's own files, compiled in; the scripts in the order in which they run.
set(report ${CMAKE_CURRENT_SOURCE_DIR}/report)
set(report_scripts
  start.js
  unpack.js
  words.js
  dom.js
  colours.js
  sheet.js
  outlines.js
  fronts.js
  view.js
  reading.js
  time_bar.js
  charts.js
  curves.js
  pools.js
  feeders.js
  findings.js
  advice.js
  facts.js
  main.js)
list(TRANSFORM report_scripts PREPEND ${report}/)
set(report_generated ${CMAKE_CURRENT_BINARY_DIR}/report_files.cpp)
list(JOIN report_scripts "|" report_scripts_argument)
add_custom_command(
  OUTPUT ${report_generated}
  COMMAND ${CMAKE_COMMAND} -DSKELETON=${report}/report.html -DSTYLE=${report}/report.css
          -DSCRIPTS=${report_scripts_argument} -DOUTPUT=${report_generated} -P ${report}/embed.cmake
  DEPENDS ${report_scripts} ${report}/report.html ${report}/report.css ${report}/embed.cmake
  COMMENT "Turning the page of answers into code"
  VERBATIM)

add_library(sandfreeze_io_fields STATIC
  criterion_picture.cpp
  frame_choice.cpp
  frame_values.cpp
  freeze_animation.cpp
  gif_file.cpp
  hdf5_disk.cpp
  hdf5_file.cpp
  hdf5_handle.cpp
  hdf5_images.cpp
  hdf5_packer.cpp
  hollow_picture.cpp
  isolines.cpp
  map_drawing.cpp
  map_picture.cpp
  mark_drawing.cpp
  material_curves.cpp
  material_picture.cpp
  matters_picture.cpp
  picture_canvas.cpp
  picture_chart.cpp
  picture_labels.cpp
  picture_legend.cpp
  picture_plot.cpp
  picture_set.cpp
  picture_sheet.cpp
  picture_style.cpp
  plan_maps.cpp
  plan_picture.cpp
  plan_section_picture.cpp
  plan_sheet.cpp
  plan_views.cpp
  probe_csv.cpp
  report.cpp
  report_data.cpp
  report_fields.cpp
  report_pack.cpp
  report_sheets.cpp
  result_maps.cpp
  section_drawing.cpp
  section_picture.cpp
  state_file.cpp
  verdict_marks.cpp
  viridis.cpp
  voxel_box.cpp
  vtk_image.cpp
  vtk_series.cpp
  ${report_generated})
target_link_libraries(sandfreeze_io_fields
  PUBLIC sandfreeze_flags sandfreeze_io_text sandfreeze_case sandfreeze_mesh sandfreeze_materials
  PRIVATE VTK::CommonCore VTK::CommonDataModel VTK::IOXML hdf5::hdf5 PkgConfig::cairo ZLIB::ZLIB GIF::GIF fmt::fmt
          nlohmann_json::nlohmann_json)
