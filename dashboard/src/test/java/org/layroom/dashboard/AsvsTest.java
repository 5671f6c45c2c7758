package org.layroom.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;

/** The tables of security points and of attacks name tests that exist. */
class AsvsTest {
  private static final Pattern NAMED =
      Pattern.compile("`([A-Z][A-Za-z]*(?:Test|IT|Fuzz))(?:\\.([A-Za-z0-9]+))?`");

  private static final JavaClasses TESTS =
      new ClassFileImporter().importPackages("org.layroom.dashboard");

  @Test
  void everyTestNamedInTheTableIsThere() throws IOException {
    Map<String, JavaClass> classes =
        TESTS.stream()
            .filter(one -> !one.getSimpleName().isEmpty())
            .collect(
                Collectors.toMap(
                    JavaClass::getSimpleName, Function.identity(), (first, second) -> first));
    Set<String> missing = new TreeSet<>();
    int named = 0;
    Matcher matcher =
        NAMED.matcher(
            Files.readString(Path.of("ASVS.md")) + Files.readString(Path.of("ATTACKS.md")));
    while (matcher.find()) {
      named++;
      if (!classes.containsKey(matcher.group(1))
          || (matcher.group(2) != null
              && !isATest(classes.get(matcher.group(1)), matcher.group(2)))) {
        missing.add(matcher.group());
      }
    }
    assertEquals(Set.of(), missing);
    assertTrue(named > 60, "tests named: " + named);
  }

  private static boolean isATest(JavaClass type, String name) {
    return type.getMethods().stream()
        .anyMatch(
            method ->
                method.getName().equals(name)
                    && (method.isAnnotatedWith(Test.class)
                        || method.isAnnotatedWith(ParameterizedTest.class)));
  }
}
