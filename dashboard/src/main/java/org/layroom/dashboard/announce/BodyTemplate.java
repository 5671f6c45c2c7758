package org.layroom.dashboard.announce;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The body of what is posted: text with the placeholders {@code {room}}, {@code {event}}, {@code
 * {title}}, {@code {words}} and {@code {time}}. What is put into a body of JSON is escaped for it.
 */
public final class BodyTemplate {
  /** JSON that names every placeholder. */
  public static final String USUAL =
      "{\"room\":\"{room}\",\"event\":\"{event}\",\"title\":\"{title}\",\"words\":\"{words}\","
          + "\"time\":\"{time}\"}";

  private static final Pattern PLACEHOLDER = Pattern.compile("\\{([a-z]+)\\}");
  private static final List<String> NAMES = List.of("room", "event", "title", "words", "time");

  private final String template;
  private final boolean json;

  /**
   * A checked template.
   *
   * @param json whether values are escaped for JSON
   * @throws IllegalArgumentException when it has a placeholder that nobody fills; says which
   */
  public BodyTemplate(String template, boolean json) {
    this.template = template;
    this.json = json;
    unknown(template)
        .ifPresent(
            name -> {
              throw new IllegalArgumentException(
                  "unknown placeholder {"
                      + name
                      + "}; use "
                      + String.join(", ", NAMES.stream().map(one -> "{" + one + "}").toList()));
            });
  }

  private static Optional<String> unknown(String template) {
    Matcher found = PLACEHOLDER.matcher(template);
    while (found.find()) {
      if (!NAMES.contains(found.group(1))) {
        return Optional.of(found.group(1));
      }
    }
    return Optional.empty();
  }

  String of(Announcement one) {
    Map<String, String> values =
        Map.of(
            "room", one.room().value(),
            "event", one.event(),
            "title", one.title(),
            "words", one.words(),
            "time", one.time().toString());
    return PLACEHOLDER
        .matcher(template)
        .replaceAll(
            found -> Matcher.quoteReplacement(escaped(values.getOrDefault(found.group(1), ""))));
  }

  private String escaped(String value) {
    return json ? new String(JsonStringEncoder.getInstance().quoteAsString(value)) : value;
  }
}
