package org.layroom.dashboard;

import com.tngtech.archunit.core.domain.Dependency;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** Finds classes of one package that know each other in a circle; nested ones count as theirs. */
final class ClassCircles {
  private ClassCircles() {}

  /** Each circle as its package and its classes by name. */
  static Set<String> of(JavaClasses classes) {
    Map<String, Set<String>> known = new TreeMap<>();
    for (JavaClass one : classes) {
      for (Dependency dependency : one.getDirectDependenciesFromSelf()) {
        JavaClass target = dependency.getTargetClass().getBaseComponentType();
        if (target.getPackageName().equals(one.getPackageName())) {
          known.computeIfAbsent(outermost(one), name -> new TreeSet<>()).add(outermost(target));
        }
      }
    }
    Map<String, Set<String>> reached = new TreeMap<>();
    known.keySet().forEach(name -> reached.put(name, reachedFrom(name, known)));
    Set<String> circles = new TreeSet<>();
    for (String name : reached.keySet()) {
      Set<String> circle =
          reached.get(name).stream()
              .filter(other -> reached.getOrDefault(other, Set.of()).contains(name))
              .collect(Collectors.toCollection(TreeSet::new));
      if (circle.size() > 1) {
        circles.add(words(circle));
      }
    }
    return circles;
  }

  private static String outermost(JavaClass one) {
    String name = one.getName();
    int nested = name.indexOf('$');
    return nested < 0 ? name : name.substring(0, nested);
  }

  private static Set<String> reachedFrom(String name, Map<String, Set<String>> known) {
    Set<String> seen = new HashSet<>();
    Deque<String> next = new ArrayDeque<>(known.getOrDefault(name, Set.of()));
    while (!next.isEmpty()) {
      String one = next.pop();
      if (seen.add(one)) {
        next.addAll(known.getOrDefault(one, Set.of()));
      }
    }
    return seen;
  }

  private static String words(Set<String> circle) {
    String first = circle.iterator().next();
    int end = first.lastIndexOf('.');
    return circle.stream()
        .map(name -> name.substring(end + 1))
        .collect(Collectors.joining(" ", first.substring(0, end) + ": ", ""));
  }
}
