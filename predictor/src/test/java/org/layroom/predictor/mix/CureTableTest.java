package org.layroom.predictor.mix;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;

/** Prints the table of CURE.md and checks that the page holds what the program says today. */
class CureTableTest {
  private static final Path PAGE = Path.of("CURE.md");

  @Test
  void thePageHoldsTheTableThatIsPrinted() throws IOException, InvalidMaterial {
    List<String> table = table();
    table.forEach(System.out::println);
    List<String> page = Files.readAllLines(PAGE);
    int first = page.indexOf(table.get(0));
    assertEquals(
        String.join("\n", table),
        String.join(
            "\n", page.subList(Math.max(0, first), Math.min(page.size(), first + table.size()))));
  }

  private static List<String> table() throws InvalidMaterial {
    List<String> lines = new ArrayList<>();
    lines.add(
        "| mold °C | dose % | mm | gel min | trim min | hottest °C | out of the mold h | load days |");
    lines.add("|---|---|---|---|---|---|---|---|");
    double[][] rows = {
      {20, 1.5, 2},
      {20, 1.0, 2},
      {20, 2.0, 2},
      {16, 1.5, 2},
      {25, 1.5, 2},
      {30, 1.0, 2},
      {20, 1.5, 3},
      {20, 1.5, 5},
      {20, 1.5, 6},
      {20, 1.5, 8},
      {30, 1.0, 5}
    };
    for (double[] row : rows) {
      lines.add(line(row[0], row[1], row[2]));
    }
    return lines;
  }

  private static String line(double moldC, double dosePct, double mm) throws InvalidMaterial {
    Material can =
        new MaterialDraft()
            .id("gp-resin")
            .name("General-purpose laminating resin")
            .kind("laminating-resin")
            .gel(20, 20, 1.5)
            .doseByWeightPct(1, 2.5)
            .activationEnergyKJPerMol(54)
            .doseExponent(0.9)
            .densityKgPerL(1.12)
            .catalystDensityKgPerL(1.18)
            .build();
    MixTemperatures at =
        MixTemperatures.unknown()
            .withMold(AgedTemperature.typed(moldC))
            .withResin(AgedTemperature.typed(moldC));
    MixAnswer answer =
        MixQuestion.of(can, new Amount.Grams(500))
            .wanting(new DoseRequest.ByWeight(dosePct))
            .at(at)
            .with(new ShopTools(0.01, 500, 1000))
            .into(new Pass(Pass.Place.IN_MOLD, 0, Optional.of(Laminate.of(mm)), MoldKind.GRP))
            .answer();
    StageTime trim = stage(answer, Stage.GREEN_TRIM);
    return String.format(
        Locale.ROOT,
        "| %.0f | %.1f | %.0f | %s | %.0f to %.0f | %s | %s | %s |",
        moldC,
        dosePct,
        mm,
        band(answer.gelMinutes().orElseThrow(), 1),
        trim.fromMinutes().p50(),
        trim.untilMinutes().orElseThrow().p50(),
        band(answer.heat().orElseThrow().peakC(), 1),
        band(stage(answer, Stage.DEMOLD).fromMinutes(), 60),
        band(stage(answer, Stage.FULL_HARDNESS).fromMinutes(), 1440));
  }

  private static StageTime stage(MixAnswer answer, Stage stage) {
    return answer.stages().stream().filter(time -> time.stage() == stage).findFirst().orElseThrow();
  }

  private static String band(Band band, double unit) {
    return one(band.p10() / unit) + " / " + one(band.p50() / unit) + " / " + one(band.p90() / unit);
  }

  private static String one(double value) {
    return Double.isFinite(value) ? String.format(Locale.ROOT, "%.0f", value) : "never";
  }
}
