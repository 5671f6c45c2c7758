package org.layroom.dashboard.fault;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/** What is done to Layroom in a test, and what it promises all the same: a row of the table. */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.METHOD)
@interface Fault {
  /** The fault. */
  String value();

  String promised();
}
