package org.layroom.dashboard.answer;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.mix.MixTemperatures;

/**
 * Anything typed in a form, a query or on the command line: a question, or refusals in words. The
 * text is taken as lines of {@code name=value}; the first letter says which question is asked.
 */
class TypedFieldsFuzz {
  private static final MaterialShelf SHELF = MaterialShelf.presets();
  private static final MaterialShelf.Entry RESIN = SHELF.find("gp-resin").orElseThrow();

  @FuzzTest
  void fields(@NotNull String text) {
    if (text.isEmpty()) {
      return;
    }
    Map<String, List<String>> fields = fields(text.substring(1).split("\n", -1));
    switch (text.charAt(0) % 3) {
      case 0 -> mix(fields);
      case 1 -> fumes(fields);
      default -> plan(fields);
    }
  }

  private static Map<String, List<String>> fields(String... lines) {
    Map<String, List<String>> fields = new LinkedHashMap<>();
    for (String line : lines) {
      int at = line.indexOf('=');
      String name = at < 0 ? line : line.substring(0, at);
      fields
          .computeIfAbsent(name, key -> new ArrayList<>())
          .add(at < 0 ? "" : line.substring(at + 1));
    }
    return fields;
  }

  private static void mix(Map<String, List<String>> fields) {
    MixFields.Known known =
        new MixFields.Known(
            MixTemperatures.unknown(),
            Optional.empty(),
            Optional.empty(),
            Calibration::of,
            List.of());
    MixFields.Parsed parsed = MixFields.parse(RESIN.material(), fields, known);
    told(parsed.question().isPresent(), parsed.refused());
  }

  private static void fumes(Map<String, List<String>> fields) {
    FumesFields.Parsed parsed =
        FumesFields.parse(
            fields, FumesFields.Known.of(Optional.of(RESIN.material()), Calibration::of));
    told(parsed.question().isPresent(), parsed.refused());
  }

  private static void plan(Map<String, List<String>> fields) {
    PlanQuestion.Parsed parsed =
        PlanQuestion.parse(
            SHELF.all(), fields, ZoneId.of("Europe/Berlin"), Optional.empty(), Calibration::of);
    told(parsed.question().isPresent(), parsed.refused());
  }

  private static void told(boolean asked, List<Refusal> refused) {
    if (!asked && refused.isEmpty()) {
      throw new AssertionError("neither a question nor a reason");
    }
    for (Refusal refusal : refused) {
      if (refusal.reason().isBlank()) {
        throw new AssertionError("refused without a reason: " + refusal);
      }
    }
  }
}
