package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.dashboard.material.MaterialFile;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.material.InvalidMaterial;
import picocli.CommandLine.Option;

/** {@code --material} and {@code --material-file}, the same for every command. */
final class MaterialChoice {
  /** What to do with a file for a room that is watched. */
  static final String PUT_IN_FOLDER =
      "The running dashboard uses its own materials: put the file in its material.folder and use"
          + " --material";

  @Option(
      names = "--material",
      paramLabel = "ID",
      description = "gp-resin, iso-resin, iso-gel-coat, tooling-gel-coat or finish-coat.")
  Optional<String> id = Optional.empty();

  @Option(
      names = "--material-file",
      paramLabel = "FILE.json",
      description = "Your own material: a file.")
  Optional<Path> file = Optional.empty();

  /** What was chosen, or nothing. */
  Optional<MaterialShelf.Entry> chosen() throws RefusedInput {
    if (file.isPresent()) {
      return Optional.of(fromFile(file.get()));
    }
    if (id.isEmpty()) {
      return Optional.empty();
    }
    MaterialShelf shelf = MaterialShelf.presets();
    return Optional.of(
        shelf
            .find(id.get())
            .orElseThrow(
                () ->
                    new RefusedInput(
                        new Refusal(
                            "material",
                            id.get(),
                            String.join(", ", shelf.ids()),
                            "There is no material \""
                                + id.get()
                                + "\": use one of "
                                + String.join(", ", shelf.ids())
                                + ", or your own with --material-file."))));
  }

  /** What was chosen; nothing chosen is refused. */
  MaterialShelf.Entry required() throws RefusedInput {
    return chosen()
        .orElseThrow(
            () ->
                new RefusedInput(
                    new Refusal(
                        "material",
                        "missing",
                        String.join(", ", MaterialShelf.presets().ids()),
                        "Enter a material: --material with one of "
                            + String.join(", ", MaterialShelf.presets().ids())
                            + ", or your own with --material-file.")));
  }

  /**
   * The id to ask the running dashboard with, if one was typed; a file it cannot be asked with.
   *
   * @param instead what to do with the file
   */
  Optional<String> idAtDashboard(String instead) throws RefusedInput {
    if (file.isPresent()) {
      throw notAtDashboard(file.get(), instead);
    }
    return id;
  }

  /** The file that was chosen, checked, to be sent to the running dashboard with the question. */
  Optional<ObjectNode> fileForDashboard() throws RefusedInput {
    if (file.isEmpty()) {
      return Optional.empty();
    }
    fromFile(file.get());
    try {
      return Optional.of(
          JsonMapper.builder().build().readValue(Files.readAllBytes(file.get()), ObjectNode.class));
    } catch (IOException e) {
      throw unreadable(file.get());
    }
  }

  /** The refusal of a material file where the dashboard's own materials count. */
  static RefusedInput notAtDashboard(Path file, String instead) {
    return new RefusedInput(
        new Refusal("material-file", file.toString(), "a material of the dashboard", instead));
  }

  private static MaterialShelf.Entry fromFile(Path path) throws RefusedInput {
    try {
      return new MaterialShelf.Entry(MaterialFile.read(Files.readAllBytes(path)), false);
    } catch (InvalidMaterial e) {
      throw new RefusedInput(
          e.problems().stream()
              .map(p -> new Refusal(p.field(), p.value(), p.limit(), path + ": " + p.reason()))
              .toList());
    } catch (IOException e) {
      throw unreadable(path);
    }
  }

  private static RefusedInput unreadable(Path path) {
    return new RefusedInput(
        new Refusal(
            "material-file",
            path.toString(),
            "a readable file",
            "The material file " + path + " cannot be read."));
  }
}
