package org.layroom.dashboard.answer;

import java.util.Optional;
import org.layroom.dashboard.quantity.Quantities;
import org.layroom.predictor.heat.Laminate;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.mix.Pass;

/**
 * Where the mix goes, as it is typed: place, layers ({@code 4} or {@code 4x450g/m2}), thickness
 * ({@code 5mm}, or {@code 2mm-5mm} from the thinnest to the thickest place) and kind of mold.
 */
final class TypedPass {
  private static final double USUAL_MAT_G_PER_M2 = 450;

  /** The wet end of 2 to 2.5 to 1: the hotter one. */
  private static final double WET_RESIN_TO_GLASS = 2.5;

  private record Mat(int layers, Optional<Double> gPerM2) {
    static Mat parse(String text) {
      int times = text.indexOf('x');
      return times < 0
          ? new Mat(Quantities.count(text), Optional.empty())
          : new Mat(
              Quantities.count(text.substring(0, times)),
              Optional.of(Quantities.gramsPerSquareMeter(text.substring(times + 1))));
    }
  }

  private final TypedFields fields;

  TypedPass(TypedFields fields) {
    this.fields = fields;
  }

  private Optional<Mat> mat() {
    return fields.field("layers", Mat::parse);
  }

  /** How many layers of mat; empty when not said. */
  Optional<Integer> layers() {
    return mat().map(Mat::layers);
  }

  /** Weight of one layer, g/m2. */
  double matGPerM2() {
    return mat()
        .flatMap(Mat::gPerM2)
        .or(() -> fields.field("mat", Quantities::gramsPerSquareMeter))
        .orElse(USUAL_MAT_G_PER_M2);
  }

  /** The place, what is laid there and on what; a refused field is left out. */
  Pass pass() {
    int layers = layers().orElse(0);
    Optional<Laminate> laminate = thickness().or(() -> laid(layers));
    return fields
        .parsed(
            "layers",
            String.valueOf(layers),
            text -> new Pass(place(), layers, laminate, moldKind()))
        .orElse(Pass.notSaid());
  }

  private Optional<Laminate> laid(int layers) {
    if (layers < 1 || layers > 50) {
      return Optional.empty();
    }
    double ratio = fields.field("resin-to-glass", Quantities::number).orElse(WET_RESIN_TO_GLASS);
    return fields.parsed(
        "layers", String.valueOf(layers), text -> Laminate.ofLayers(layers, matGPerM2(), ratio));
  }

  private Optional<Laminate> thickness() {
    return fields.field(
        "thickness",
        text -> {
          int to = text.indexOf('-', 1);
          if (to < 0) {
            return Laminate.of(Quantities.millimeters(text));
          }
          return new Laminate(
              Quantities.millimeters(text.substring(to + 1)),
              Quantities.millimeters(text.substring(0, to)),
              Laminate.USUAL_GLASS_SHARE);
        });
  }

  private MoldKind moldKind() {
    return fields
        .field(
            "mold-kind",
            text ->
                MoldKind.of(text)
                    .orElseThrow(
                        () ->
                            new IllegalArgumentException(
                                "\"" + text + "\": enter " + MoldKind.ids())))
        .orElse(MoldKind.GRP);
  }

  private Pass.Place place() {
    return fields
        .field(
            "place",
            text ->
                switch (text) {
                  case "in-mold" -> Pass.Place.IN_MOLD;
                  case "between-layers" -> Pass.Place.BETWEEN_LAYERS;
                  case "last-coat" -> Pass.Place.LAST_COAT;
                  default ->
                      throw new IllegalArgumentException(
                          "\"" + text + "\": enter in-mold, between-layers or last-coat");
                })
        .orElse(Pass.Place.NOT_SAID);
  }
}
