package org.layroom.dashboard.material;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.OptionalDouble;
import org.layroom.predictor.material.GelPoint;
import org.layroom.predictor.material.Material;

/** A material as a material file; {@link MaterialFile#read} gives the same material back. */
public final class MaterialJson {
  private MaterialJson() {}

  /** The file of a material; what it leaves out stays out. */
  public static ObjectNode write(Material material) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("id", material.id()).put("name", material.name()).put("kind", material.kind().id());
    GelPoint gel = material.gel();
    json.putObject("gel")
        .put("minutes", gel.minutes())
        .put("temperatureC", gel.temperatureC())
        .put("doseByWeightPct", gel.doseByWeightPct());
    if (!material.gelTable().isEmpty()) {
      ArrayNode rows = json.putArray("gelTable");
      for (GelPoint row : material.gelTable()) {
        rows.addObject()
            .put("temperatureC", row.temperatureC())
            .put("doseByWeightPct", row.doseByWeightPct())
            .put("gelMinutes", row.minutes());
      }
    }
    put(json, "activationEnergyKJPerMol", material.activationEnergyKJPerMol());
    put(json, "doseExponent", material.doseExponent());
    json.putObject("doseByWeightPct")
        .put("min", material.doseByWeightPct().min())
        .put("max", material.doseByWeightPct().max());
    material
        .temperatureC()
        .ifPresent(
            range ->
                json.putObject("temperatureC").put("min", range.min()).put("max", range.max()));
    put(json, "densityKgPerL", material.densityKgPerL());
    put(json, "catalystDensityKgPerL", material.catalystDensityKgPerL());
    put(json, "demoldHoursAt20C", material.demoldHoursAt20C());
    json.put("structural", material.structural()).put("waxed", material.waxed());
    put(json, "styrenePct", material.styrenePct());
    put(json, "peakToGel", material.peakToGel());
    return json;
  }

  private static void put(ObjectNode json, String name, OptionalDouble value) {
    value.ifPresent(number -> json.put(name, number));
  }
}
