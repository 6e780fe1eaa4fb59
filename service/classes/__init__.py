"""The student's desk and the teacher's desk.

``setting``    an assignment from a brief and a rubric     ``handing_in``  a file taken in
``desk``       pages of a student                          ``attempts``    the page of one attempt
``results``    an outcome in words and rows                ``judging``     what a teacher adds to it
``teaching``   pages of a teacher                          ``overview``    a class at one assignment
``history``    every change of a mark                  ``correcting`` points in place of computed ones
``releasing``  marks held and released                 ``marks_desk`` pages that change marks
``placing``    places settled at a release             ``attempts_left`` how many attempts, and when
``second``     a second teacher marks blind            ``second_desk`` its pages
``alike``      pairs of works that are alike    ``outline``     a bridge drawn without names
``insight``    what a class's work shows               ``questions``   worth a lesson, ``insight_desk`` their page
``comparing``  two attempts of one student      ``comparing_page``  its page
``mark_book``  marks as a table                            ``sheets``      all sheets in one archive
``set_pages``  setting work, dates, extensions             ``dates``       what a teacher types, on the school's clock
``rescheduling`` dates changed later                       ``calendar_pages`` due dates for a calendar
``for_students`` staff hand in; all about one student      ``bundle``      a zip of files named after students
``handing_on`` marks in other forms                        ``oneroster_results`` one of them
"""
