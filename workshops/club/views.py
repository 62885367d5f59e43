"""The club's rules: read them, decide one, go back to the usual value."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.club import actions
from workshops.club.forms import RuleForm
from workshops.club.queries import Decision, grouped, rules_of
from workshops.club.rule import RuleRefused
from workshops.club.rulebook import RULE


@guard(Permission.SEE_HOME)
def rules(request: ShopRequest) -> HttpResponse:
    """Every rule, with who decided it, when and from what."""
    found = rules_of(request.shop)
    page = {
        "groups": grouped(found),
        "decided": sum(each.is_decided for each in found.decisions.values()),
        "units": request.shop.length_units,
    }
    return render(request, "club/rules.html", page)


@require_http_methods(["GET", "POST"])
@guard(Permission.EDIT_RULES)
def rule(request: ShopRequest, key: str) -> HttpResponse:
    """Decide one rule: a page, or a form in place of its line."""
    decision = _decision(request, key)
    form = RuleForm(request.POST or None, decision=decision, units=request.shop.length_units)
    if request.method == "POST" and form.is_valid() and _decide(request, key, form):
        return _line(request, key)
    template = "club/_rule_form.html" if request.htmx else "club/rule.html"
    # As everywhere: a refused form is told from a page by its status.
    status = 422 if form.is_bound else 200
    page = {"form": form, "decision": decision, "units": request.shop.length_units}
    return render(request, template, page, status=status)


@require_POST
@guard(Permission.EDIT_RULES)
def usual(request: ShopRequest, key: str) -> HttpResponse:
    """Go back to the usual value of a rule."""
    decision = _decision(request, key)
    actions.drop_rule(shop=request.shop, key=key)
    messages.success(request, f"{decision.rule.label}: the usual value holds again.")
    return redirect("club:rules", shop=request.shop.slug)


def _decide(request: ShopRequest, key: str, form: RuleForm) -> bool:
    try:
        actions.set_rule(shop=request.shop, key=key, by=request.user, **form.cleaned_data)
    except RuleRefused as refused:
        form.add_error("decided_on" if "Decided on" in refused.reason else None, refused.reason)
        return False
    return True


def _line(request: ShopRequest, key: str) -> HttpResponse:
    decision = _decision(request, key)
    # The whole page for a browser without scripts, the line alone for one with.
    if not request.htmx:
        messages.success(request, f"{decision.rule.label}: kept.")
        return redirect("club:rules", shop=request.shop.slug)
    page = {"decision": decision, "units": request.shop.length_units, "is_kept": True}
    return render(request, "club/_rule.html", page)


def _decision(request: ShopRequest, key: str) -> Decision:
    if key not in RULE:
        raise Http404("There is no rule of that name.")
    return rules_of(request.shop).decision(key)
