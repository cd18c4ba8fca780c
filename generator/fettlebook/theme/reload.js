/* The preview: asks its server whether a newer edition is there, and loads the page again. Only the preview has this file. */
(function () {
  "use strict";
  function ask(edition) {
    var question = new XMLHttpRequest();
    question.onloadend = function () {
      var newest = parseInt(question.responseText, 10);
      if (question.status !== 200 || !newest) setTimeout(ask, 2000, edition);
      else if (edition && newest > edition) location.reload();
      else ask(newest);
    };
    question.open("GET", "/livereload/" + edition + "/" + Date.now());
    question.send();
  }
  ask(0);
})();
