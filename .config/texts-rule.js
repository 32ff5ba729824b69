import ts from 'typescript';

/**
 * Words for people live in src/texts/ only: in the rooms below and in the files that tie them together, a literal or template that reads
 * like a sentence is a fault, unless it is the message of an error, which tells a fault and not a result.
 */
const ROOMS =
  /^src\/((report|web|batch|queue|judge|stabilise|surface|spectrum|motion|tracking)\/|[^/]+\.ts$)/;
/** Style sheets, policies of headers and files for machines hold words that nobody reads. */
const EXEMPT = /(^|\/)(style|[a-z-]*csv|palette|headers)\.ts$/;
/** Two words in a row, the second in small letters: the mark of prose. */
const PROSE = /[A-Za-z]{2,}[,:;]? [a-z]{2,}/;

/** Media types, markup and styles hold no prose: types with their parameters and tags with their attributes go, what is left is what people read. */
function readable(text) {
  return text
    .replace(/^[a-z]+\/[a-z+]+; charset=[\w-]+$/, '')
    .replace(/<[^>]*>?/g, '')
    .replace(/[a-z-]+:[^;{}]*;|[^{}]*\{[^}]*\}/g, '');
}

/** @type {import('eslint').Rule.RuleModule} */
export const texts = {
  meta: {
    type: 'problem',
    schema: [],
    messages: { inline: 'Words for people belong to src/texts/: "{{text}}".' },
  },
  create(context) {
    const file = context.filename.replaceAll('\\', '/').replace(/^.*?\/(?=src\/)/, '');
    if (!ROOMS.test(file) || EXEMPT.test(file)) return {};
    const services = context.sourceCode.parserServices;
    /** A call after which nothing follows throws what it is given. */
    const throws = (call) =>
      services?.program && (services.getTypeAtLocation(call).flags & ts.TypeFlags.Never) !== 0;
    const forNobody = (node) => {
      for (let at = node; at; at = at.parent) {
        if (at.type === 'ThrowStatement') return true;
        if (at.type === 'NewExpression' && /Error$/.test(at.callee.name ?? '')) return true;
        if (at.type === 'CallExpression' && throws(at)) return true;
        if (/Error$/.test(at.returnType?.typeAnnotation?.typeName?.name ?? '')) return true;
        // What must never happen is told to whoever mends the program.
        if (at.type === 'CallExpression' && at.callee.name === 'assert') return true;
        if (at.type === 'ImportDeclaration' || at.type === 'TSLiteralType') return true;
        if (at.type === 'JSXAttribute' && /^(class|d|style|points|viewBox)$/.test(at.name.name)) return true;
        if (at.type === 'Property' && /^(class|d|style|points|viewBox)$/.test(at.key.name ?? at.key.value))
          return true;
      }
      return false;
    };
    const check = (node, text) => {
      if (!PROSE.test(text) || forNobody(node)) return;
      context.report({ node, messageId: 'inline', data: { text: text.trim().slice(0, 50) } });
    };
    return {
      Literal: (node) => typeof node.value === 'string' && check(node, readable(node.value)),
      TemplateLiteral(node) {
        const whole = node.quasis.map(({ value }) => value.cooked ?? '').join('0');
        check(node, readable(whole));
      },
    };
  },
};
