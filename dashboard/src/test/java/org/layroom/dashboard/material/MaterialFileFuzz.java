package org.layroom.dashboard.material;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.nio.charset.StandardCharsets;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;

/** Any material file: a material inside every limit, or what to change. */
class MaterialFileFuzz {
  @FuzzTest
  void files(byte @NotNull [] bytes) {
    try {
      Material material = MaterialFile.read(bytes);
      byte[] written = MaterialJson.write(material).toString().getBytes(StandardCharsets.UTF_8);
      if (!MaterialFile.read(written).equals(material)) {
        throw new AssertionError(material + " is another when it is written and read again");
      }
    } catch (InvalidMaterial e) {
      if (e.problems().isEmpty()) {
        throw new AssertionError("refused without saying what to change", e);
      }
    }
  }
}
