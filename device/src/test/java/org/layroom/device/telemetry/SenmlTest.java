package org.layroom.device.telemetry;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;

/** Messages against RFC 8428: its examples are read, and what is written follows its rules. */
class SenmlTest {
  private static final Channel CHANNEL = Channel.of("garage", "bench");
  private static final JsonSchema SCHEMA = schema();

  private static JsonSchema schema() {
    InputStream file =
        Objects.requireNonNull(SenmlTest.class.getResourceAsStream("/senml/senml.schema.json"));
    return JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012).getSchema(file);
  }

  private static void assertFollowsTheStandard(byte[] body) {
    String text = new String(body, StandardCharsets.UTF_8);
    assertEquals(Set.of(), SCHEMA.validate(text, InputFormat.JSON), text);
  }

  private static List<DeviceMessage> read(String body) throws MalformedMessage {
    return ReadingsBody.read(CHANNEL, body.getBytes(StandardCharsets.UTF_8));
  }

  /** The examples name other devices; ours refuses those, so only the base name is put in ours. */
  private static String ours(String example) {
    assertEquals(Set.of(), SCHEMA.validate(example, InputFormat.JSON), "the schema");
    return example
        .replace("urn:dev:ow:10e2073a01080063:", "layroom/garage/bench/")
        .replace("urn:dev:ow:10e2073a01080063", "layroom/garage/bench/x");
  }

  @Test
  void goodAloneIsNoReadingButAFaultAloneIs() throws MalformedMessage {
    String pack =
        "[{\"bn\":\"layroom/garage/bench/\",\"n\":\"voc-raw-quality\",\"vs\":\"good\"},"
            + "{\"n\":\"temperature-quality\",\"vs\":\"fault: no answer\"}]";
    DeviceMessage.Sample sample = (DeviceMessage.Sample) read(pack).get(0);
    assertEquals(List.of(Reading.missing("temperature", "", "no answer")), sample.readings());
  }

  /** Impossible values are kept as rejected upstairs: a refused pack would never be marked. */
  @Test
  void aSumThatOverflowsDoesNotRefuseThePack() throws MalformedMessage {
    String pack =
        "[{\"bn\":\"layroom/garage/bench/\",\"bv\":1e308,\"n\":\"temperature\",\"v\":1e308},"
            + "{\"n\":\"outbox\",\"vs\":\"box\"},{\"n\":\"sequence\",\"bv\":0,\"v\":7}]";
    DeviceMessage.Sample sample = (DeviceMessage.Sample) read(pack).get(0);
    assertEquals(new OutboxPosition("box", 7), sample.position().orElseThrow());
    assertEquals(Double.POSITIVE_INFINITY, sample.readings().get(0).value().orElseThrow());
  }

  /** RFC 8428 section 5.1.1, single data point, retyped. */
  @Test
  void theStandardsSingleDataPointIsRead() throws MalformedMessage {
    List<DeviceMessage> read =
        read(ours("[{\"n\":\"urn:dev:ow:10e2073a01080063\",\"u\":\"Cel\",\"v\":23.1}]"));
    DeviceMessage.Sample sample = (DeviceMessage.Sample) read.get(0);
    assertEquals(new SampleTime.Ago(Duration.ZERO), sample.time(), "no time means now");
    assertEquals(Reading.of("x", "Cel", 23.1), sample.readings().get(0));
  }

  /** RFC 8428 section 5.1.2, multiple data points, first example, retyped. */
  @Test
  void theStandardsTwoDataPointsAreRead() throws MalformedMessage {
    List<DeviceMessage> read =
        read(
            ours(
                "[{\"bn\":\"urn:dev:ow:10e2073a01080063:\",\"n\":\"voltage\",\"u\":\"V\","
                    + "\"v\":120.1},{\"n\":\"current\",\"u\":\"A\",\"v\":1.2}]"));
    DeviceMessage.Sample sample = (DeviceMessage.Sample) read.get(0);
    assertEquals(
        List.of(Reading.of("voltage", "V", 120.1), Reading.of("current", "A", 1.2)),
        sample.readings());
  }

  /** RFC 8428 section 5.1.2, second example, retyped: base time, base unit and offsets. */
  @Test
  void theStandardsHistoryOfCurrentsIsReadAtItsTimes() throws MalformedMessage {
    List<DeviceMessage> read =
        read(
            ours(
                "[{\"bn\":\"urn:dev:ow:10e2073a01080063:\",\"bt\":1.276020076001e+09,"
                    + "\"bu\":\"A\",\"bver\":5,\"n\":\"voltage\",\"u\":\"V\",\"v\":120.1},"
                    + "{\"n\":\"current\",\"t\":-5,\"v\":1.2},{\"n\":\"current\",\"t\":-4,\"v\":1.3},"
                    + "{\"n\":\"current\",\"t\":-3,\"v\":1.4},{\"n\":\"current\",\"t\":-2,\"v\":1.5},"
                    + "{\"n\":\"current\",\"t\":-1,\"v\":1.6},{\"n\":\"current\",\"v\":1.7}]"));
    assertEquals(6, read.size(), "six moments");
    DeviceMessage.Sample now = (DeviceMessage.Sample) read.get(0);
    assertEquals(new SampleTime.At(Instant.ofEpochMilli(1_276_020_076_001L)), now.time());
    assertEquals(
        List.of(Reading.of("voltage", "V", 120.1), Reading.of("current", "A", 1.7)),
        now.readings());
    DeviceMessage.Sample oldest = (DeviceMessage.Sample) read.get(1);
    assertEquals(new SampleTime.At(Instant.ofEpochMilli(1_276_020_071_001L)), oldest.time());
    assertEquals(List.of(Reading.of("current", "A", 1.2)), oldest.readings());
  }

  /** RFC 8428 section 5.1.4 in short form, retyped: text and true/false values. */
  @Test
  void theStandardsOtherDataTypesAreRead() throws MalformedMessage {
    List<DeviceMessage> read =
        read(
            ours(
                "[{\"bn\":\"urn:dev:ow:10e2073a01080063:\",\"n\":\"temp\",\"u\":\"Cel\",\"v\":23.1},"
                    + "{\"n\":\"label\",\"vs\":\"Machine Room\"},{\"n\":\"open\",\"vb\":false},"
                    + "{\"n\":\"nfc-reader\",\"vd\":\"aGkgCg\"}]"));
    DeviceMessage.Sample sample = (DeviceMessage.Sample) read.get(0);
    assertEquals(
        List.of(
            Optional.empty(),
            Optional.of("Machine Room"),
            Optional.of("false"),
            Optional.of("aGkgCg")),
        sample.readings().stream().map(Reading::text).toList());
  }

  /** RFC 8428 section 4.4: a field whose name ends in an underscore must be understood. */
  @Test
  void whatMustBeUnderstoodAndIsNotIsRefused() {
    assertThrows(
        MalformedMessage.class,
        () -> read("[{\"bn\":\"layroom/garage/bench/\",\"n\":\"t\",\"v\":1,\"new_\":2}]"));
  }

  @Test
  void anotherDevicesNameIsRefused() {
    assertThrows(
        MalformedMessage.class,
        () -> read("[{\"bn\":\"layroom/garage/other/\",\"n\":\"temperature\",\"v\":1}]"));
  }

  @Property
  void whatIsWrittenFollowsTheStandardAndIsReadBack(@ForAll("samples") DeviceMessage.Sample sample)
      throws MalformedMessage {
    byte[] body = ReadingsBody.write(CHANNEL, sample);
    assertFollowsTheStandard(body);
    assertEquals(List.of(sample), ReadingsBody.read(CHANNEL, body));
  }

  @Test
  void aLostRangeFollowsTheStandardAndIsReadBack() throws MalformedMessage {
    DeviceMessage.Lost lost = new DeviceMessage.Lost("0123456789abcdef", 17, 4711);
    byte[] body = ReadingsBody.write(CHANNEL, lost);
    assertFollowsTheStandard(body);
    assertEquals(List.of(lost), ReadingsBody.read(CHANNEL, body));
  }

  @Property
  void anyBytesAreReadOrRefused(@ForAll byte[] body) {
    try {
      assertNotNull(ReadingsBody.read(CHANNEL, body));
    } catch (MalformedMessage e) {
      assertTrue(!String.valueOf(e.getMessage()).isEmpty());
    }
  }

  @Provide
  Arbitrary<DeviceMessage.Sample> samples() {
    Arbitrary<SampleTime> times =
        Arbitraries.oneOf(
            Arbitraries.longs()
                .between(1_600_000_000_000L, 4_000_000_000_000L)
                .map(millis -> (SampleTime) new SampleTime.At(Instant.ofEpochMilli(millis))),
            Arbitraries.longs()
                .between(0, 200_000_000_000L)
                .map(millis -> (SampleTime) new SampleTime.Ago(Duration.ofMillis(millis))));
    Arbitrary<Reading> readings =
        Combinators.combine(
                Arbitraries.of("temperature", "humidity", "mold-temperature/fender", "voc-raw"),
                Arbitraries.doubles().between(-1e6, 1e6),
                Arbitraries.of("good", "suspect: settling \"é\"", "fault: no answer"))
            .as(
                (name, value, words) -> {
                  Quality quality = Quality.parse(words);
                  return quality instanceof Quality.Fault fault
                      ? Reading.missing(name, "", fault.reason())
                      : Reading.of(name, "Cel", value, quality);
                });
    return Combinators.combine(
            times,
            Arbitraries.longs().between(1, 1_000_000_000),
            Arbitraries.doubles().between(0, 1e7),
            readings.list().ofMinSize(1).ofMaxSize(4).uniqueElements(Reading::name))
        .as(
            (time, sequence, uptime, list) ->
                new DeviceMessage.Sample(
                    time,
                    Optional.of(new OutboxPosition("0123456789abcdef", sequence)),
                    OptionalDouble.of(uptime),
                    OptionalDouble.of(uptime + 1),
                    sorted(list)));
  }

  /** A fault has no record of its own, so its reading comes after those that have. */
  private static List<Reading> sorted(List<Reading> readings) {
    return readings.stream()
        .sorted((a, b) -> Boolean.compare(a.value().isEmpty(), b.value().isEmpty()))
        .toList();
  }
}
