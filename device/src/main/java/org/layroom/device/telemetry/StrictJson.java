package org.layroom.device.telemetry;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;

/**
 * How JSON from outside is read: bounded in depth and length, a field given twice or anything after
 * the end refused.
 */
public final class StrictJson {
  private static final int LONGEST_TEXT = 4096;

  private StrictJson() {}

  /**
   * A reader.
   *
   * @param deepest how many objects and lists may lie in one another, 1 or more
   */
  public static JsonMapper mapper(int deepest) {
    return JsonMapper.builder(
            JsonFactory.builder()
                .streamReadConstraints(
                    StreamReadConstraints.builder()
                        .maxNestingDepth(deepest)
                        .maxNumberLength(64)
                        .maxStringLength(LONGEST_TEXT)
                        .build())
                .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                .build())
        .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
        .build();
  }
}
